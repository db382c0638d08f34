import { describe, expect, it } from 'vitest';
import { CAUTIONS } from '../../core/cautions.ts';
import { type ReportInput, renderReport, renderReports } from '../../core/report/index.ts';
import { assessment, makeFailed, makeInput, makeWithheld, visit } from './fixture.ts';

const HOSTILE = `<script>alert("1")</script>&'</style><img src=x onerror=alert(1)>`;

const VARIANTS: readonly (readonly [string, () => ReportInput])[] = [
  ['assessed', makeInput],
  ['withheld', makeWithheld],
  ['failed', makeFailed],
];

/** What a reader sees: tags and styles taken off, entities written out. */
function readText(html: string): string {
  return html
    .replace(/<style>[\s\S]*?<\/style>/g, '')
    .replace(/<[^>]*>/g, ' ')
    .replace(/&lt;/g, '<')
    .replace(/&gt;/g, '>')
    .replace(/&quot;/g, '"')
    .replace(/&#39;/g, "'")
    .replace(/&amp;/g, '&')
    .replace(/\s+/g, ' ');
}

/** Names of elements that are opened and not closed in order. */
function findUnbalanced(html: string): string[] {
  const open: string[] = [];
  const VOID = new Set(['meta', 'br', 'img', '!doctype']);
  for (const [, slash, name, selfClosing] of html.matchAll(/<(\/?)([a-z!][a-z0-9]*)\b[^>]*?(\/?)>/gi)) {
    if (VOID.has(name!.toLowerCase()) || selfClosing === '/') continue;
    if (slash === '') open.push(name!);
    else if (open.pop() !== name) return [...open, name!];
  }
  return open;
}

/** Every text that a person typed or a file brought, made hostile; numbers and fixed words stay. */
function poison<T>(value: T, isFixed: (key: string) => boolean, key = ''): T {
  if (typeof value === 'string') return (isFixed(key) ? value : `${value}${HOSTILE}`) as T;
  if (Array.isArray(value)) return value.map((item) => poison(item, isFixed, key)) as T;
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, item]) => [name, poison(item, isFixed, name)]),
  ) as T;
}

describe.each(VARIANTS)('a report on a visit that is %s', (verdict, make) => {
  const html = renderReport(make());
  const text = readText(html);

  it('is whole HTML with every element closed', () => {
    expect(html.startsWith('<!doctype html>')).toBe(true);
    expect(findUnbalanced(html)).toEqual([]);
  });

  it('needs nothing but itself: no script, no address, no reference', () => {
    expect(html).not.toMatch(
      /<script|<link|<img|<iframe|javascript:|https?:|\burl\(|@import|\ssrc=|\shref=|\son\w+=/i,
    );
  });

  it('is the same text for the same input', () => {
    expect(renderReport(make())).toBe(html);
  });

  it('says the verdict, the pole, the date and every caution before its first numbered part', () => {
    const firstPage = readText(html.slice(0, html.indexOf('<section>')));
    for (const words of [verdict, 'TV-0417', '2026-05-03', ...CAUTIONS]) expect(firstPage).toContain(words);
  });

  it('prints neither a missing value nor a number that is none', () => {
    expect(text).not.toMatch(/undefined|NaN|null|Infinity|\[object/);
    expect(html.match(/ d="[^"]*(NaN|undefined|Infinity)/)).toBeNull();
  });

  it('has the record, the provenance, rulings and lines to sign on', () => {
    for (const words of ['Pole record', 'Measured on the visit', 'Cables and attachments']) {
      expect(text).toContain(words);
    }
    for (const words of ['SHA-256 of all inputs', 'Rulings', 'Measured by', 'Analysed by', 'Engineer']) {
      expect(text).toContain(words);
    }
  });

  it('shows what people typed as text, whatever it holds', () => {
    const fixed = new Set([
      'verdict',
      'exciter',
      'date',
      'printedAt',
      'species',
      'soil',
      'model',
      'unit',
      'status',
    ]);
    const poisoned = renderReport(poison(make(), (key) => fixed.has(key)));
    expect(poisoned).not.toMatch(/<script|<img/i);
    expect(poisoned.match(/<\/style>/g)).toHaveLength(1);
    expect(findUnbalanced(poisoned)).toEqual([]);
    expect(readText(poisoned)).toContain(`TV-0417${HOSTILE}`);
  });
});

describe('a report on an assessed visit', () => {
  const html = renderReport(makeInput());
  const text = readText(html);

  it.each([
    'Capacity against requirement',
    'Findings',
    'Strikes and checks',
    'Checks over several strikes',
    'Figures of the checks',
    'Modes',
    'Assignment of peaks to modes',
    'Peaks that are no mode pick',
    'Stem against root',
    'Stem and root, medians with intervals',
    'Identifiability: separated.',
    'Strength',
    'Requirement',
    'Sources of the calibration',
    'Decided by the analyst before the fit',
    'Provenance',
  ])('has the part "%s"', (title) => {
    expect(text).toContain(title);
  });

  it('writes estimates with their intervals and units', () => {
    expect(text).toContain('91 (62 to 125) kN·m');
    expect(text).toContain('10.4 (9.6 to 11.3) GPa');
    expect(text).toContain('2.790 ± 0.011');
    expect(text).toContain('below that: 29 %');
  });

  it('says of a kept pole what its result speaks against that, wherever the ruling stands', () => {
    const keep = { ...makeInput().rulings[0]!, decision: 'keep' as const, withdrawn: null };
    const text = readText(renderReport({ ...makeWithheld(), rulings: [keep] }));
    expect(text.match(/Kept in spite of the result: the result is withheld/g)).toHaveLength(2);
    const withdrawn = { ...keep, withdrawn: { person: 'B', markedAt: keep.decidedAt, reason: 'a slip' } };
    expect(readText(renderReport({ ...makeWithheld(), rulings: [withdrawn] }))).toMatch(
      /withdrawn by B, [\d-]+ [\d:]+ UTC: a slip/,
    );
    expect(readText(renderReport({ ...makeWithheld(), rulings: [withdrawn] }))).not.toContain(
      'Kept in spite',
    );
  });

  it('says of a kept pole that its ground line was not inspected, unless it was', () => {
    const keep = { ...makeInput().rulings[0]!, decision: 'keep' as const, withdrawn: null };
    const input = { ...makeInput(), rulings: [keep] };
    const words = /The ground line was not inspected, and no result speaks of decay there\./g;
    expect(readText(renderReport(input)).match(words)).toHaveLength(2);
    const bored = { ...visit, measured: { ...visit.measured, shellThicknessM: 0.03 } };
    expect(readText(renderReport({ ...input, visit: bored }))).not.toMatch(words);
    expect(readText(renderReport({ ...input, rulings: [{ ...keep, decision: 'watch' }] }))).not.toMatch(
      words,
    );
  });

  it('lists on its first page all that was found, each kind named once: the chain, its calibration, earlier visits', () => {
    const change = {
      id: 'changed-between-visits',
      text: 'Compared with the visit of 2014-09-16: f1 8 % lower.',
    };
    const twice = {
      ...assessment,
      strength: {
        ...assessment.strength!,
        warnings: ['Age is outside of the tests.', 'The interval is wider.'],
      },
      findings: [
        { id: 'odd-pick', text: 'Mode 2 of plane 1.' },
        { id: 'odd-pick', text: 'Mode 2 of plane 2.' },
      ],
    };
    const html = renderReport(makeInput({ compared: [change], assessment: twice }));
    const firstPage = readText(html.slice(0, html.indexOf('<section>')));
    for (const words of [
      'calibration limit Age is outside of the tests. The interval is wider.',
      'changed between visits Compared with the visit of 2014-09-16: f1 8 % lower.',
      'odd pick Mode 2 of plane 1. Mode 2 of plane 2.',
    ]) {
      expect(firstPage).toContain(words);
    }
    for (const name of ['calibration limit', 'changed between visits', 'odd pick', 'Age is outside']) {
      expect(readText(html).split(name)).toHaveLength(2);
    }
  });

  it('says what is required and how likely the capacity is below it before any source', () => {
    const firstPage = readText(html.slice(0, html.indexOf('<section>')));
    const { source } = assessment.requirement!;
    const places = ['Required:', 'below the threshold of the rule', source].map((words) =>
      firstPage.indexOf(words),
    );
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect(places[0]).toBeGreaterThan(0);
  });

  it('names planes by azimuths of 0 to 359 degrees', () => {
    const modes = assessment.modes.map((mode) => (mode.plane === 0 ? { ...mode, azimuthDeg: -1 } : mode));
    const text = readText(renderReport(makeInput({ assessment: { ...assessment, modes } })));
    expect(text).toContain('plane 1 (359°)');
    expect(text).not.toContain('-1°');
  });

  it('says with the capacity that it is that of sound wood', () => {
    expect(readText(renderReport(makeInput()))).toContain(
      'Bending capacity at the ground line, if the wood there is sound :',
    );
  });

  it('gives advice of a check, decisions in words, rulings with reason and every hash', () => {
    expect(text).toContain('Strike at 45° to both axes of the sensor.');
    expect(text).toContain('1: 2.790 Hz: mode 1; 11.32 Hz: no mode; 27.90 Hz: mode 3');
    expect(text).toContain('no mode of this number in this plane');
    expect(text).toContain('look at the ground line before the season');
    for (const hash of ['0f', 'c3', 'ab'].map((byte) => byte.repeat(32))) expect(text).toContain(hash);
  });

  it('says on its first page what was set by hand, in words, as typed, with who stored that, and again where all is told', () => {
    const by = { setBy: 'options.priors.densityKgPerM3', isGiven: true };
    const density = {
      name: 'density',
      unit: 'kg/m3',
      median: 809.938,
      low: 800,
      high: 820,
      source: 'visit',
      ...by,
    };
    const input = makeInput({
      visit: { ...visit, measured: { ...visit.measured, densityKgPerM3: 394 } },
      assessment: { ...assessment, priors: [density] },
      decisions: [
        {
          kind: 'prior',
          prior: { name: 'densityKgPerM3', median: 809.938, logSd: 0.00750581 },
          reason: 'a core was weighed',
        },
        {
          kind: 'prior',
          prior: { name: 'rootModels', bedded: 100, coupled: 0, spring: 0 },
          reason: 'bedded in concrete',
        },
        { kind: 'strike', recording: 'hand.wav', strike: 1, use: true, reason: 'clear enough' },
        { plane: 1, number: 3, frequencyHz: 28.6 },
      ],
    });
    const [first, rest] = readText(renderReport(input)).split('Strikes and checks');
    expect(first).toContain(
      'Set by hand (result stored by A. Nalyst (invented), 2026-05-03 16:30 UTC): density: 800 to 820 kg/m³ in place of the measured 394 kg/m³; reason: a core was weighed root models: bedded 100 %, coupled 0 %, spring 0 %; reason: bedded in concrete hand.wav, strike 2: used, whatever its checks say; reason: clear enough',
    );
    expect(first).toContain('plane 2, mode 3: at 28.60 Hz');
    expect(rest).toContain('density 800 to 820 kg/m³ in place of the measured 394 kg/m³ a core was weighed');
    expect(readText(renderReport(makeInput({ decisions: [] })))).not.toContain('Set by hand');
  });

  it('keeps every plotted point inside its drawing', () => {
    const figures = [...html.matchAll(/<svg viewBox="0 0 (\d+) (\d+)"[^>]*>([\s\S]*?)<\/svg>/g)];
    expect(figures).toHaveLength(6);
    for (const [, width, height, body] of figures) {
      const points = [...body!.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)];
      expect(points.length).toBeGreaterThan(2);
      expect(Math.min(...points.flatMap(([, x, y]) => [Number(x), Number(y)]))).toBeGreaterThanOrEqual(0);
      expect(Math.max(...points.map(([, x]) => Number(x)))).toBeLessThanOrEqual(Number(width));
      expect(Math.max(...points.map(([, , y]) => Number(y)))).toBeLessThanOrEqual(Number(height));
    }
  });

  it('marks picks by the shape of their plane and the number of the mode', () => {
    expect(html.match(/class="pick-number"[^>]*>[123]</g)).toHaveLength(12);
    expect(html).toContain('aria-label="circle"');
    expect(html).toContain('aria-label="square"');
  });

  it('says so where there is no requirement', () => {
    const bare = readText(renderReport(makeInput({ assessment: { ...assessment, requirement: null } })));
    expect(bare).toContain('No requirement is known for this pole');
    expect(bare).not.toContain('threshold of the rule');
  });

  it('lists the loads behind the requirement, each with its arm and factor', () => {
    const item = {
      kind: 'wind',
      loadN: 2078,
      armM: 9,
      momentNm: 18_702,
      factor: 2.5,
      requiredMomentNm: 46_755,
    } as const;
    const requirement = { ...assessment.requirement!, items: [{ name: 'Wind on phases', ...item }] };
    const text = readText(renderReport(makeInput({ assessment: { ...assessment, requirement } })));
    expect(text).toContain('Loads behind the requirement');
    expect(text).toMatch(/Wind on phases 2\.08 9(\.00)? 18\.7 2\.5(0)? 46\.8/);
    expect(readText(renderReport(makeInput()))).not.toContain('Loads behind the requirement');
  });

  it('tells where the required stem lies when it is outside the picture', () => {
    const picture = { ...makeInput().picture!, requiredModulusPa: 80e9 };
    expect(readText(renderReport(makeInput({ picture })))).toContain('With a stem of 80 GPa');
    expect(readText(renderReport(makeInput({ picture })))).toContain('outside the picture');
  });
});

describe('a report on a visit without a result', () => {
  it('says first what cannot be told, why, and what to do next', () => {
    const text = readText(renderReport(makeWithheld()));
    const cautions = text.indexOf(CAUTIONS[0]!);
    for (const words of [
      'No bending capacity is given.',
      'Every strike was clipped or cut short',
      'What cannot be told',
      'fixity of the root',
      'What to do next',
      'Strike softer, or set a larger full scale.',
    ]) {
      expect(text).toContain(words);
      expect(text.indexOf(words)).toBeLessThan(cautions);
    }
  });

  it('hides a strength that the chain had computed on the way', () => {
    const withheld = {
      ...assessment,
      verdict: 'withheld' as const,
      withheldBecause: 'Stem and root are one.',
    };
    const text = readText(renderReport(makeInput({ assessment: withheld })));
    for (const words of ['91 (62', '62.4 kN·m', '29 %', 'Capacity against requirement']) {
      expect(text).not.toContain(words);
    }
    expect(text).toContain('Chance that the capacity is below not told');
  });

  it('prints the error and its remedy where the visit failed', () => {
    const text = readText(renderReport(makeFailed()));
    expect(text).toContain('hammer.wav is not in the folder of the visit file.');
    expect(text).toContain('Copy hammer.wav beside the visit file');
  });
});

describe('reports of several visits', () => {
  it('starts each on a page of its own, with its own running head', () => {
    const second = makeInput({ visit: { ...visit, pole: { ...visit.pole, id: 'TV-0500' } } });
    const html = renderReports([makeInput(), second]);
    expect(html.match(/<article class="visit-\d"/g)).toEqual([
      '<article class="visit-1"',
      '<article class="visit-2"',
    ]);
    expect(html).toContain('article + article { break-before: page; }');
    expect(html).toMatch(/@page visit-2 \{\s*@top-left \{ content: "Pole TV-0500, visit of 2026-05-03"/);
    expect(html).toContain('counter(page) " of " counter(pages)');
  });

  it('makes a whole, empty document of no visits', () => {
    expect(findUnbalanced(renderReports([]))).toEqual([]);
  });
});

it('draws recordings and spectra that hold nothing or silence', () => {
  const [recording] = makeInput().recordings;
  const silent = {
    ...recording!,
    waveform: { timesS: [0], channels: [{ azimuthDeg: 0, low: [0], high: [0] }] },
  };
  const spectrum = { recording: 'a.wav', strike: 0, window: 'Hann', unit: 'm/s²' };
  const html = renderReport(
    makeInput({
      recordings: [silent, { ...silent, waveform: { timesS: [], channels: [] } }],
      spectra: [
        { ...spectrum, frequenciesHz: [], channels: [] },
        { ...spectrum, frequenciesHz: [0, 1], channels: [{ azimuthDeg: 0, values: [0, 0] }] },
      ],
    }),
  );
  expect(html).not.toMatch(/NaN|Infinity|undefined/);
});
