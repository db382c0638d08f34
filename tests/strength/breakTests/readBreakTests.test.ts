import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FormatError, StemrootError } from '../../../core/errors.ts';
import {
  type BreakTestMapping,
  breakTestMappingSchema,
  proposeBreakTests,
  readBreakTests,
} from '../../../core/strength/index.ts';
import { breakTestRowSchema } from '../../../core/strength/relation/breakTestRow.ts';
import { makeBreakTests } from '../../../samples/breakTests.ts';
import { makeForeignBreakTests } from '../../../samples/foreignBreakTests.ts';

const bytesOf = (text: string) => new TextEncoder().encode(text);
const read = (text: string, mapping?: BreakTestMapping) =>
  readBreakTests(bytesOf(text), 'tests.csv', mapping);
const propose = (text: string) => proposeBreakTests(bytesOf(text), 'tests.csv');
const errorOf = (run: () => unknown): StemrootError => {
  try {
    run();
  } catch (error) {
    return error as StemrootError;
  }
  throw new Error('nothing was thrown');
};

const HEADER = 'pole_id,groundline_circumference_m,load_height_m,break_load_kn,break_height_m';
const GOOD = 'A1,0.80,8,10,0';
/** 32 pi^2 x 80 kN m / 0.8^3 */
const GOOD_PA = (32 * Math.PI ** 2 * 8e4) / 0.512;
const NO_ARM_LOSS = expect.stringContaining('arm had shortened when it broke is not stated');
const table = (...rows: readonly string[]) => [HEADER, ...rows].join('\n');
const refusalOf = (text: string) => {
  const { rows, refused } = read(text);
  expect(rows).toHaveLength(0);
  expect(refused).toHaveLength(1);
  return refused[0]!;
};

describe('the invented series', () => {
  it('reads without a touch: 60 poles, none refused, every figure as the file has it', () => {
    const text = makeBreakTests();
    expect(propose(text).lacks).toEqual([]);
    expect(propose(text).mapping.columns.every(({ isCertain }) => isCertain)).toBe(true);
    const { rows, details, refused, notes } = read(text);
    expect(refused).toEqual([]);
    expect(notes).toEqual([
      expect.stringMatching(/^60 of 60 tests do not state by how much the arm had shortened/),
    ]);
    expect([rows.length, details.length]).toEqual([60, 60]);
    const [first] = text
      .split('\n')
      .slice(1)
      .map((line) => line.split(','));
    expect(rows[0]).toMatchObject({
      id: first![0],
      species: first![1],
      treatment: first![2],
      ageYears: Number(first![3]),
      circumferenceM: Number(first![6]),
      groundlineMomentNm: Number(first![8]) * Number(first![9]),
      modulusPa: Number(first![11]) * 1e9,
      frequenciesHz: [Number(first![12]), Number(first![13]), Number(first![14])],
      fixity: Number(first![15]),
      moisturePercent: Number(first![16]),
    });
    expect(rows[0]!.stemLengthM).toBeCloseTo(Number(first![4]) - Number(first![5]), 12);
  });
});

describe('the series of another crew', () => {
  it('reads in feet, inches, kips and decimal commas; eight rows are refused, each for what it says of itself', () => {
    const text = makeForeignBreakTests();
    const { mapping, lacks } = propose(text);
    expect(lacks).toEqual([]);
    expect(mapping.decimalMark).toBe(',');
    expect(mapping.columns.map(({ field }) => field).slice(0, -1)).not.toContain(null);
    const { rows, refused } = read(text);
    expect(rows).toHaveLength(12);
    expect(refused.map(({ column, reason }) => `${column}: ${reason.replace(/[\d.]+/g, 'n')}`)).toEqual([
      'Max load (kip): holds a "n", and the decimal mark of this table is ","',
      'Circ. at ground-line [in]: is missing',
      'Max load (kip): is no number',
      'Top circ. (in): makes a tip of n % of the girth at ground line',
      'Max load (kip): makes a modulus of rupture of n MPa, outside of n to n MPa',
      'Pole No.: stands in line n too',
      'Height of failure (ft): is not below the load at n m',
      'MOE (10^6 psi): is no measurement',
    ]);
    // as strong and stiff as the first series: wood does not know its units
    for (const { modulusOfRupturePa, modulusPa } of rows) {
      expect(modulusOfRupturePa / 1e6).toBeGreaterThan(20);
      expect(modulusOfRupturePa / 1e6).toBeLessThan(90);
      expect(modulusPa! / 1e9).toBeGreaterThan(5);
      expect(modulusPa! / 1e9).toBeLessThan(18);
    }
  });
});

describe('readBreakTests', () => {
  it('reduces a cantilever that broke at ground line', () => {
    const { rows, details, refused } = read(table(GOOD));
    expect(refused).toEqual([]);
    expect(rows[0]!.groundlineMomentNm).toBeCloseTo(8e4, 6);
    expect(rows[0]!.modulusOfRupturePa).toBeCloseTo(GOOD_PA, 3);
    expect(details[0]).toMatchObject({
      id: 'A1',
      line: 2,
      visit: null,
      kind: 'cantilever',
      remarks: [NO_ARM_LOSS],
    });
  });

  it('takes break height and taper into account', () => {
    const header = `${HEADER},length_m,setting_depth_m,tip_circumference_m,visit`;
    const { rows, details } = read(`${header}\nA1,0.80,8,10,2,10,1.5,0.46,A1-2026`);
    // girth at 2 m of 8.5: 0.8 - 0.34 x 2 / 8.5 = 0.72
    expect(rows[0]!.modulusOfRupturePa).toBeCloseTo((32 * Math.PI ** 2 * 6e4) / 0.72 ** 3, 3);
    expect(rows[0]!.groundlineMomentNm).toBeCloseTo(8e4, 6);
    expect(rows[0]!.stemLengthM).toBeCloseTo(8.5, 12);
    expect(details[0]).toMatchObject({ visit: 'A1-2026', breakHeightM: 2 });
    // under the load at 8 m the girth is 0.48: greatest stress where it is 0.72, at 2 m
    expect(details[0]!.greatestStress!.heightM).toBeCloseTo(2, 9);
    expect(details[0]!.remarks.join(' ')).toMatch(/broke 2\.00 m above ground line/);
    expect(details[0]!.remarks.join(' ')).not.toContain('weak place');
  });

  it('says where a pole broke far below the greatest stress', () => {
    const header = `${HEADER},length_m,setting_depth_m,tip_circumference_m`;
    const { details } = read(`${header}\nA1,0.80,8,10,6,10,1.5,0.7`);
    expect(details[0]!.remarks.join(' ')).toContain('weak place');
  });

  it('reads semicolons, decimal commas, a byte order mark, comments and Windows line ends', () => {
    const text = `\uFEFF# series 3\r\n${HEADER.replaceAll(',', ';')}\r\n\r\nA1;0,80;8;10,0;0\r\n`;
    const { rows, refused } = read(text);
    expect(refused).toEqual([]);
    expect(rows[0]!.modulusOfRupturePa).toBeCloseTo(GOOD_PA, 3);
  });

  it('reads inches, feet and pounds', () => {
    const text =
      'Pole No.\tGL circumference (in)\tLever arm (ft)\tMax load (lbf)\tMOE (10^6 psi)\n7\t33.5\t32\t2400\t1.6';
    const { rows } = read(text);
    expect(rows[0]!.groundlineMomentNm / 1.3558179483).toBeCloseTo(76_800, 2);
    expect(rows[0]!.modulusPa! / 6894.757293).toBeCloseTo(1.6e6, 0);
    expect(rows[0]).toMatchObject({ id: '7', poleId: '7', species: 'other', stemLengthM: null });
  });

  it('reads bending tests of specimens beside the girth of their pole', () => {
    const text =
      'specimen,pole,test type,girth (m),span (mm),width (mm),specimen depth (mm),max load (N)\n' +
      's1,A1,three-point,0.8,280,20,20,1500\ns2,A1,4-point,0.8,360,20,20,2000';
    const { rows, details } = read(text);
    // 3 x 1500 x 0.28 / (2 x 0.02^3); thirds: 2000 x 0.36 / 0.02^3
    expect(rows[0]!.modulusOfRupturePa / 1e6).toBeCloseTo(78.75, 6);
    expect(rows[1]!.modulusOfRupturePa / 1e6).toBeCloseTo(90, 6);
    expect(rows.map(({ id, poleId }) => [id, poleId])).toEqual([
      ['s1', 'A1'],
      ['s2', 'A1'],
    ]);
    expect(rows[0]!.groundlineMomentNm).toBeCloseTo((78.75e6 * 0.8 ** 3) / (32 * Math.PI ** 2), 3);
    expect(details[0]!.remarks[0]).toContain('a small specimen is stronger');
  });

  it('takes the number of points from the words of its kind, and refuses a bending test without one', () => {
    // P a / 2 over b h^2 / 6 at the thirds, P l / 4 in the middle: 3/2 of the stress under the same load
    const mpaOf = (kind: string) => {
      const { rows, refused } = read(
        `pole,test type,girth (m),span (mm),width (mm),specimen depth (mm),max load (N)\nA,${kind},0.8,360,20,20,2000`,
      );
      return rows[0] ? Math.round(rows[0].modulusOfRupturePa / 1e6) : refused[0]!.reason;
    };
    for (const kind of [
      'four-point',
      '4-pt',
      '4 point',
      'third-point',
      '1/3 point',
      '3rd point',
      '1/3 and 2/3',
    ]) {
      expect([kind, mpaOf(kind)]).toEqual([kind, 90]);
    }
    for (const kind of ['three-point', '3-pt', '3PB', 'centre point', 'center']) {
      expect([kind, mpaOf(kind)]).toEqual([kind, 135]);
    }
    expect(mpaOf('1/4 point')).toMatch(/no kind of test that is known/);
    expect(mpaOf('four-point with centre span')).toMatch(/may be three-point or four-point/);
    expect(mpaOf('')).toMatch(/is missing, and the load has a span in place of an arm/);
  });

  it('tells specimens from whole poles in bending', () => {
    const header = 'pole,test type,girth (m),span (m),specimen diameter (mm),max load (kN)';
    const { rows, notes } = read(
      `${header}\nA,three-point,0.8,9,,12\nB,three-point,0.8,9,240,12\nC,three-point,0.8,0.7,50,3`,
    );
    expect(rows.map(({ piece }) => piece)).toEqual(['pole', 'pole', 'specimen']);
    expect(notes.join(' ')).toContain('1 of 3 tests are of specimens cut from poles');
  });

  it('says where the arm is taken as it was before the pole bent', () => {
    const { details, notes } = read(`${HEADER},arm_loss_m\n${GOOD},0.4\nA2,0.80,8,10,0,`);
    expect(details.map(({ remarks }) => remarks)).toEqual([[], [NO_ARM_LOSS]]);
    expect(notes.join(' ')).toMatch(/1 of 2 tests do not state by how much the arm had shortened/);
  });

  it('takes a stated moment or modulus of rupture, whichever is there', () => {
    const { rows } = read('pole,girth (m),moment (kN m),MOR (MPa)\nA,0.8,80,\nB,0.8,,49.35\nC,0.8,80,49.35');
    expect(rows[0]!.modulusOfRupturePa).toBeCloseTo(GOOD_PA, 3);
    expect(rows[1]!.groundlineMomentNm / 8e4).toBeCloseTo(1, 3);
    expect(rows).toHaveLength(3);
  });

  it('keeps the standard error of the modulus as its own interval', () => {
    const { rows } = read('pole,girth (m),moment (kN m),MOE (GPa),MOE error (%)\nA,0.8,80,11,6');
    expect(rows[0]).toMatchObject({ modulusPa: 11e9, modulusLogSd: 0.06 });
  });

  it('names species by what they are called, and says where it does not know one', () => {
    const { rows, details } = read(
      'pole,girth (m),moment (kN m),species\nA,0.8,80,Western Red Cedar\nB,0.8,80,SYP\nC,0.8,80,Scots pine',
    );
    expect(rows.map(({ species }) => species)).toEqual(['western-redcedar', 'southern-pine', 'other']);
    expect(details[2]!.remarks.join(' ')).toContain('Species "Scots pine" is not known here');
  });

  it('says where a whole series is too strong or too weak for the units stated', () => {
    const rows = ['A1,0.80,8,10,0', 'A2,0.90,8,14,0', 'A3,0.85,8,13,0'];
    expect(read(table(...rows)).notes).toEqual([
      expect.stringContaining('3 of 3 tests name no known species'),
      expect.stringContaining('3 of 3 tests do not state by how much the arm had shortened'),
    ]);
    // the same figures as kilonewtons where they were kips, and as pounds taken for newtons
    const asKips = table(...rows).replace('break_load_kn', 'break_load_kip');
    expect(read(asKips).notes.join(' ')).toMatch(/Half of the tests are above 4\.\d times/);
    const weak = table('A1,0.80,8,2.2,0', 'A2,0.90,8,3.1,0');
    expect(read(weak).notes.join(' ')).toMatch(/Half of the tests are below 0\.2\d? times/);
    expect(read(HEADER).notes).toEqual([]);
  });

  it('takes a mapping that a person changed', () => {
    const text = 'nr;umfang;arm;kraft\nA1;0,80;8;10';
    const proposal = propose(text);
    expect(proposal.lacks.length).toBeGreaterThan(0);
    expect(proposal.mapping.decimalMark).toBe(',');
    expect(proposal.firstRows).toEqual([['A1', '0,80', '8', '10']]);
    expect(proposal.choices.find(({ field }) => field === 'breakLoadN')).toEqual({
      field: 'breakLoadN',
      label: 'load that broke it',
      units: ['N', 'kN', 'daN', 'lbf', 'kip', 'kgf'],
    });
    const fields = ['poleId', 'groundlineCircumferenceM', 'loadHeightM', 'breakLoadN'] as const;
    const units = [null, 'm', 'm', 'kN'];
    const mapping = breakTestMappingSchema.parse({
      decimalMark: ',',
      columns: proposal.mapping.columns.map((column, i) => ({ ...column, field: fields[i], unit: units[i] })),
    });
    expect(proposeBreakTests(bytesOf(text), 'tests.csv', mapping)).toMatchObject({ mapping, lacks: [] });
    expect(read(text, mapping).rows[0]!.modulusOfRupturePa).toBeCloseTo(GOOD_PA, 3);
  });
});

describe('rows that are refused', () => {
  it('are listed with line, column, value, reason and hint; the others are kept', () => {
    const { rows, refused } = read(table(GOOD, 'A2,0.80,8,ten,0', 'A3,0.80,8,10,0'));
    expect(rows.map(({ id }) => id)).toEqual(['A1', 'A3']);
    expect(refused).toEqual([
      {
        line: 3,
        column: 'break_load_kn',
        value: 'ten',
        reason: 'is no number',
        hint: expect.stringContaining('unit belongs into the header'),
      },
    ]);
  });

  it('counts lines as an editor does, over comments and quoted line ends', () => {
    const text = `# one\n\n${HEADER},note\nA1,0.8,8,10,0,"two\nlines"\nA2,0.8,8,x,0,`;
    expect(read(text).refused[0]!.line).toBe(6);
  });

  it.each([
    ['A1,0.80,8,NaN,0', 'break_load_kn', /no measurement/],
    ['A1,0.80,8,Infinity,0', 'break_load_kn', /no measurement/],
    ['A1,0.80,8,1e999,0', 'break_load_kn', /no number/],
    ['A1,0.80,8,"1,000",0', 'break_load_kn', /holds a ","/],
    ['A1,0.80,8,10 kN,0', 'break_load_kn', /no number/],
    ['A1,80,8,10,0', 'groundline_circumference_m', /80 m, outside of 0.15 to 4/],
    ['A1,0.80,8,-10,0', 'break_load_kn', /outside of 100 to/],
    ['A1,0.80,8,900,0', 'break_load_kn', /modulus of rupture of 4.44e\+3 MPa, outside of 5 to 250 MPa/],
    ['A1,0.80,8,0.5,0', 'break_load_kn', /outside of 5 to 250 MPa/],
    ['A1,0.80,8,10,8.5', 'breakHeightM', /not below the load at 8.00 m/],
    ['A1,0.80,8,10,3', 'breakHeightM', /the girth there is not known/],
    ['A1,0.80,,10,0', 'break_load_kn', /has no arm/],
    ['A1,,8,10,0', 'groundline_circumference_m', /is missing/],
    ['A1,0.80,8,,0', 'break_load_kn', /is missing, and no moment/],
    ['A1,0.80,8,10', null, /4 cells, and the header has 5/],
    ['A1,0.80,8,10,0,more', null, /6 cells, and the header has 5/],
    ['"A1,0.80,8,10,0', null, /opened and not closed/],
    [`${'x'.repeat(81)},0.80,8,10,0`, 'pole_id', /longer than 80 characters/],
    [`${'x'.repeat(501)},0.80,8,10,0`, null, /more than 500 characters/],
  ])('%s: %s %s', (row, column, reason) => {
    const refused = refusalOf(table(row));
    expect(refused.reason).toMatch(reason);
    if (column !== 'breakHeightM') expect(refused.column).toBe(column);
    expect(refused.hint.length).toBeGreaterThan(10);
    expect(refused.line).toBe(2);
  });

  it('name every cell of a row that is wrong', () => {
    const { refused } = read(table('A1,eight,8,ten,0'));
    expect(refused.map(({ column }) => column)).toEqual(['groundline_circumference_m', 'break_load_kn']);
  });

  it('are tests of the same name, with the line of the first', () => {
    const { rows, refused } = read(table(GOOD, GOOD));
    expect(rows).toHaveLength(1);
    expect(refused[0]).toMatchObject({
      line: 3,
      column: 'pole_id',
      value: 'A1',
      reason: 'stands in line 2 too',
    });
  });

  it('may have the same pole where visit or test differ', () => {
    const text = 'pole,visit,girth (m),moment (kN m)\nA,2024,0.8,80\nA,2026,0.8,70';
    expect(read(text).rows.map(({ id, poleId }) => [id, poleId])).toEqual([
      ['A 2024', 'A'],
      ['A 2026', 'A'],
    ]);
  });

  it.each([
    ['length_m,setting_depth_m', '10,6', /half of the length/],
    ['length_m', '80', /outside of 2 to 60/],
    ['length_m', '55', /on 55.00 m of length is no pole's/],
    ['length_m,setting_depth_m', '9,1.5', /above the tip, 7.50 m/],
    ['tip_circumference_m', '0.9', /tip of 113 %/],
    ['tip_circumference_m', '0.155', /tip of 19 %/],
    ['groundline_diameter_m', '0.3', /not that of a girth of 0.800 m/],
    ['f1_hz,f2_hz', '9,2', /not above that of the mode before/],
    ['moe_gpa', '11000', /outside of 1e\+9 to 4e\+10|outside of 1000000000 to 40000000000/],
    ['MOR_MPa', '60', /does not agree with 49.3 MPa/],
    ['moment_knm', '8', /does not agree with 80.0 kN·m/],
    ['arm_loss_m', '5', /half of the arm of 8 m/],
    ['test_type', 'torsion', /no kind of test/],
    ['moisture_percent', '0.24', /outside of 3 to 200/],
  ])('contradict themselves: %s %s', (columns, cells, reason) => {
    expect(refusalOf(`${HEADER},${columns}\n${GOOD},${cells}`).reason).toMatch(reason);
  });

  it('take a stated stress that is that of ground line, as reports have it', () => {
    const header = `${HEADER},break_circumference_m,MOR_MPa`;
    const { rows } = read(`${header}\nA1,0.80,8,10,2,0.75,49.3`);
    expect(rows[0]!.modulusOfRupturePa).toBeCloseTo((32 * Math.PI ** 2 * 6e4) / 0.75 ** 3, 3);
  });
});

describe('tables that cannot be read', () => {
  it('say what is missing, column by column', () => {
    const error = errorOf(() => read('pole,girth,load\nA,0.8,10'));
    expect(error).toBeInstanceOf(FormatError);
    expect(error.code).toBe('breakTests.mapping');
    expect(error.message).toMatch(/Column "girth" \(circumference at ground line\): its unit is not stated/);
    expect(error.message).toMatch(/Column "load" .*unit is not stated/);
    const unknown = errorOf(() => read('pole,girth (furlongs),max load (kN),f1 (rpm)\nA,0.8,10,120')).message;
    expect(unknown).toContain('"furlongs" is no unit of length that is known here');
    // not taken for hertz
    expect(unknown).toContain('"rpm" is no unit of frequency that is known here');
    expect(errorOf(() => read('pole\nA')).message).toMatch(
      /No column holds a girth.*No column holds a breaking load/,
    );
  });

  it('are those of another mapping', () => {
    const { mapping } = propose(table(GOOD));
    expect(errorOf(() => read('a,b\n1,2', mapping)).message).toMatch(
      /mapping is of 5 columns and the table has 2/,
    );
    const twice = {
      ...mapping,
      columns: mapping.columns.map((column, i) =>
        i === 2 ? { ...column, field: 'breakLoadN' as const, unit: 'kN' } : column,
      ),
    };
    expect(errorOf(() => read(table(GOOD), twice)).message).toMatch(/as another does/);
    const odd = { ...mapping, columns: mapping.columns.map((column) => ({ ...column, unit: 'stone' })) };
    expect(errorOf(() => read(table(GOOD), odd)).message).toMatch(/"stone" is no unit of force/);
  });

  it('have no header, are far too long, too wide or in UTF-16', () => {
    expect(errorOf(() => read('')).message).toMatch(/no header row/);
    expect(errorOf(() => read('# only a comment\n\n')).message).toMatch(/no header row/);
    expect(errorOf(() => read('a,'.repeat(300))).message).toMatch(/301 columns/);
    expect(errorOf(() => read(table(...Array(20_002).fill(GOOD)))).message).toMatch(/more than 20000 rows/);
    expect(errorOf(() => read(`${table(GOOD)}${'\n'.repeat(200_000)}`)).message).toMatch(/100000 lines/);
    const utf16 = new Uint8Array([0xff, 0xfe, 0x61, 0]);
    expect(errorOf(() => readBreakTests(utf16, 'a.csv')).message).toMatch(/UTF-16/);
    expect(errorOf(() => readBreakTests(new Uint8Array(17 * 1024 * 1024), 'a.csv')).code).toBe(
      'breakTests.size',
    );
  });
});

describe('any bytes', () => {
  const cell = fc.oneof(
    fc.string({ maxLength: 12 }),
    fc.double().map(String),
    fc.constantFrom(
      'NaN',
      '-1e308',
      '1,5',
      '"',
      '""',
      '\n',
      '\r',
      ';',
      '\t',
      '0',
      '0.8',
      '8',
      '10',
      '\u0000',
      '=',
    ),
  );
  const header = fc.constantFrom(
    HEADER,
    'pole;visit;girth (m);moment (kN m);MOR (psi)',
    'test,length_ft,depth_ft,circ_in,tip_circ_in,load_below_tip_ft,max_load_lbf,failure_height_ft',
    'specimen\ttest type\tspan_mm\twidth_mm\tthickness_mm\tforce_n\tgl diameter (mm)',
  );

  const expectHonest = (bytes: Uint8Array) => {
    try {
      const { rows, details, refused } = readBreakTests(bytes, 'any.csv');
      expect(details).toHaveLength(rows.length);
      for (const row of rows) {
        expect(breakTestRowSchema.safeParse(row).success).toBe(true);
        expect(row.modulusOfRupturePa).toBeGreaterThanOrEqual(5e6);
        expect(row.modulusOfRupturePa).toBeLessThanOrEqual(250e6);
      }
      expect(new Set(rows.map(({ id }) => id)).size).toBe(rows.length);
      for (const { line, reason, hint } of refused) {
        expect(line).toBeGreaterThan(0);
        expect(reason.length * hint.length).toBeGreaterThan(0);
      }
    } catch (error) {
      if (!(error instanceof StemrootError)) throw error;
    }
  };

  it('are read, refused or answered by a typed error: noise', () => {
    fc.assert(fc.property(fc.uint8Array({ maxLength: 400 }), expectHonest), { numRuns: 300 });
  });

  it('are read, refused or answered by a typed error: what looks like a table', () => {
    const row = fc.tuple(fc.array(cell, { maxLength: 9 }), fc.constantFrom(',', ';', '\t'));
    fc.assert(
      fc.property(header, fc.array(row, { maxLength: 12 }), (head, rows) => {
        expectHonest(bytesOf([head, ...rows.map(([cells, mark]) => cells.join(mark))].join('\n')));
      }),
      { numRuns: 500 },
    );
  });

  it('are never lost: every row of the table is a row read or a line refused', () => {
    const number = fc.oneof(fc.double({ min: 0.1, max: 20, noNaN: true }).map(String), fc.constant(''));
    fc.assert(
      fc.property(
        fc.array(fc.array(number, { minLength: 4, maxLength: 4 }), { minLength: 1, maxLength: 15 }),
        (cells) => {
          const lines = cells.map((row, i) => `P${i},${row.join(',')}`);
          const { rows, refused } = read(table(...lines));
          expect(rows.length + new Set(refused.map(({ line }) => line)).size).toBe(cells.length);
        },
      ),
    );
  });
});
