/**
 * Mistakes that must not end in a confident strength: a girth typed wrong, picks on the wrong modes, data that contradict
 * each other. One invented sample visit, changed.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type AnalysedVisit, analyseVisit, concludeVisit } from '../core/assess.ts';
import type { VisitInput } from '../core/readRecordings.ts';
import { type Priors, parseVisitFile, type VisitFile } from '../core/recording/index.ts';
import { makeSamples } from '../samples/make.ts';

const folder = mkdtempSync(join(tmpdir(), 'stemroot-withheld-'));
const NAME = 'KV-0104-2026.visit.json';
let input: VisitInput;
let analysed: AnalysedVisit;

beforeAll(() => {
  makeSamples(folder);
  const visit = parseVisitFile(readFileSync(join(folder, 'visits', NAME), 'utf8'), NAME);
  const recordings = new Map(
    visit.recordings.map(({ file }) => [file, new Uint8Array(readFileSync(join(folder, 'visits', file)))]),
  );
  input = { visitName: NAME, visit, recordings };
  analysed = analyseVisit(input);
}, 120_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

function assessChanged(change: (visit: VisitFile) => void) {
  const visit = structuredClone(input.visit);
  change(visit);
  return concludeVisit(analyseVisit({ ...input, visit }), []).assessment;
}

describe('a girth typed wrong', () => {
  test('a tenth above all that its class can have gives no strength, which would be a third too high', () => {
    const girthOf = (share: number) =>
      assessChanged((visit) => {
        visit.measured.circumferences = visit.measured.circumferences.map((at) => ({
          ...at,
          circumferenceM: share * at.circumferenceM,
        }));
        visit.measured.topCircumferenceM &&= share * visit.measured.topCircumferenceM;
      });
    expect(girthOf(1).verdict).toBe('assessed');
    const large = girthOf(1.22);
    expect(large.strength).toBeNull();
    expect(large.withheldBecause).toMatch(/Girth near the ground is .* Until then no capacity is told\.$/);
  });

  test.each([1.1, 1.6])('%s m instead of 0.76 m gives no strength', (girthM) => {
    const result = assessChanged((visit) => {
      visit.measured.circumferences = [{ heightM: 1.7, circumferenceM: girthM }];
      visit.measured.topCircumferenceM = null;
    });
    expect(result.verdict).toBe('withheld');
    expect(result.strength).toBeNull();
    expect(result.findings.map(({ id }) => id)).toContain('girth-off-class');
  });
});

test('a stem two standard deviations softer than its species gives no strength where no class checks the girth', () => {
  const withClass = (classCode: string | null) =>
    assessChanged((visit) => {
      visit.pole.classCode = classCode;
      visit.measured.circumferences = visit.measured.circumferences.map((at) => ({
        ...at,
        circumferenceM: 1.5 * at.circumferenceM,
      }));
      visit.measured.topCircumferenceM &&= 1.5 * visit.measured.topCircumferenceM;
    });
  const text = /^The stem comes out 2\.\d standard deviations softer than its species/;
  expect(withClass(null).withheldBecause).toMatch(text);
  // of a class that such a girth is one of
  const known = withClass('1');
  expect(known.findings.map((f) => f.text).join()).toMatch(/2\.\d standard deviations softer/);
  expect(known.strength).not.toBeNull();
});

describe('picks on the wrong modes', () => {
  test('one number too low in both planes give no strength', () => {
    const { modes } = concludeVisit(analysed, []).assessment;
    const shifted = modes
      .filter((mode) => mode.number > 1)
      .map(({ plane, number, frequencyHz }) => ({
        plane,
        number: number - 1,
        frequencyHz: frequencyHz.value,
      }));
    const result = concludeVisit(analysed, shifted).assessment;
    expect(result.verdict).toBe('withheld');
    expect(result.strength).toBeNull();
    const passedOver = result.findings.find(({ id }) => id === 'peak-passed-over');
    expect(passedOver?.text).toMatch(
      /^Clear peaks below or between the numbered modes belong to none: 1\.4\d Hz/,
    );
  });

  test('leave a first mode that is seen uncounted, which is not said to be missing', () => {
    const { findings } = concludeVisit(
      analysed,
      [0, 1].map((plane) => ({ plane, number: 1, frequencyHz: null })),
    ).assessment;
    expect(findings.find(({ id }) => id === 'mode-1-missing')?.text).toMatch(/^Mode 1 is not counted/);
  });

  test('that fall with the number, or are decided twice, are refused', () => {
    const at = (number: number, frequencyHz: number) => ({ plane: 0, number, frequencyHz });
    expect(() => concludeVisit(analysed, [at(1, 7), at(2, 2)])).toThrow(/frequencies rise with the number/);
    expect(() => concludeVisit(analysed, [at(1, 2), at(1, 2.1)])).toThrow(/decided twice/);
  });

  test('refused one and all say so', () => {
    const { modes } = concludeVisit(analysed, []).assessment;
    const refused = modes.map(({ plane, number }) => ({ plane, number, frequencyHz: null }));
    expect(concludeVisit(analysed, refused).assessment.withheldBecause).toBe('Every mode was refused.');
  });

  test('where no strike rings are named', () => {
    const result = concludeVisit(analysed, [{ plane: 0, number: 1, frequencyHz: 0.7 }]).assessment;
    expect(result.findings.map(({ id }) => id)).toContain('pick-not-seen');
  });

  test('at the peak of another mode, which is then lost for its own number, give none either', () => {
    const second = concludeVisit(analysed, []).assessment.modes.find((m) => m.plane === 0 && m.number === 2)!;
    const result = concludeVisit(analysed, [
      { plane: 0, number: 1, frequencyHz: second.frequencyHz.value },
    ]).assessment;
    expect(result.withheldBecause).toMatch(
      /^An analyst decided otherwise.*Proposed picks that no longer count/,
    );
    expect(result.strength).toBeNull();
  });

  test('where no strike rings and the others speak against them give no strength, however well the rest fits', () => {
    const result = concludeVisit(analysed, [{ plane: 0, number: 1, frequencyHz: 15 }]).assessment;
    expect(result.withheldBecause).toMatch(
      /no strike shows a mode there, and the other picks speak against it/,
    );
    expect(result.strength).toBeNull();
  });
});

describe('clear peaks without a number', () => {
  test('are excused by a mode declared missing only where that would lie', () => {
    const visit = structuredClone(input.visit);
    visit.pole = { ...visit.pole, lengthM: 0.6 * visit.pole.lengthM, classCode: null, buttToTagM: null };
    const short = analyseVisit({ ...input, visit });
    // 7.5 and 19.8 Hz lie between what this pole has as modes 1 and 3
    const isPassedOver = (missing: number) =>
      concludeVisit(
        short,
        [0, 1].map((plane) => ({ plane, number: missing, frequencyHz: null })),
      ).assessment.findings.some(({ id }) => id === 'peak-passed-over');
    expect([1, 2, 3, 4].filter(isPassedOver)).toEqual([1, 3, 4]);
  });
});

describe('a prior of the modulus set by hand', () => {
  const under = (median: number, logSd: number, change: (visit: VisitFile) => void = () => {}) =>
    assessChanged((visit) => {
      visit.options.priors = { modulusPa: { median, logSd } };
      change(visit);
    });

  test.each([
    [6.5e9, 0.1],
    [6e9, 0.3],
  ])('of %s with a spread of %s does not make a stem one of its species', (median, logSd) => {
    const short = under(median, logSd, (visit) => {
      visit.pole = { ...visit.pole, lengthM: 0.7 * visit.pole.lengthM, classCode: null, buttToTagM: null };
    });
    expect(short.withheldBecause).toMatch(/^The stem comes out .* softer than its species/);
  });

  test('that is too narrow for the recordings to speak against gives no strength', () => {
    expect(under(17e9, 0.05).withheldBecause).toMatch(
      /^The prior set for the stem modulus makes the stem stiffer by 2\.\d standard deviations/,
    );
    expect(under(10e9, 0.01).strength).not.toBeNull();
  });

  test('that draws a stem off its species gives no strength', () => {
    const drawn = under(25e9, 0.03);
    expect(drawn.strength).toBeNull();
    expect(drawn.findings.find(({ id }) => id === 'stem-outside-species')?.text).toMatch(
      / stiffer than its species\./,
    );
  });

  test('is named where the stem is far from that', () => {
    const far = under(30e9, 0.1).findings.find(({ id }) => id === 'stem-outside-species')!;
    expect(far.text).toMatch(/stiffer than its species and .* softer than the prior set for it\./);
  });
});

describe('a prior set by hand far from what it replaces', () => {
  const under = (priors: Priors, change: (visit: VisitFile) => void = () => {}) =>
    assessChanged((visit) => {
      visit.options.priors = priors;
      change(visit);
    });
  const contradiction = ({ findings }: ReturnType<typeof under>) =>
    findings.find(({ id }) => id === 'prior-contradicted')?.text;

  test.each<[string, Priors, (visit: VisitFile) => void, RegExp]>([
    [
      'a measured density',
      { densityKgPerM3: { median: 810, logSd: 0.01 } },
      (visit) => {
        visit.measured.densityKgPerM3 = 394;
      },
      /^The density set by hand contradicts what was measured \(set 797 to 823 kg\/m³, measured 375 to 414: 24\.0 standard deviations apart\)\./,
    ],
    [
      'the density of its species',
      { densityKgPerM3: { median: 1200, logSd: 0.01 } },
      (visit) => {
        visit.measured.densityKgPerM3 = null;
      },
      /^The density set by hand contradicts its species \(set 1180 to 1220 kg\/m³, tabulated \d+ to \d+: \d\.\d standard deviations apart\)\./,
    ],
    [
      'the modulus of its species',
      { modulusPa: { median: 30e9, logSd: 0.01 } },
      () => {},
      /^The stem modulus set by hand contradicts its species \(set 29\.51 to 30\.50 GPa, tabulated 7\.\d to 15\.\d: 4\.\d standard deviations apart\)\./,
    ],
    [
      'a measured depth',
      { settingDepthM: { median: 2.4, sd: 0.02 } },
      (visit) => {
        visit.pole.buttToTagM = 3.2;
        visit.measured.tagHeightM = 1.6;
      },
      /^The setting depth set by hand contradicts what was measured \(set 2\.367 to 2\.433 m, measured 1\.50 to 1\.70: 13\.3 standard deviations apart\)\./,
    ],
    [
      'a measured girth at the tip',
      { tipGirthM: { median: 0.3, sd: 0.01 } },
      (visit) => {
        visit.measured.topCircumferenceM = 0.5;
      },
      /^The girth at the tip set by hand contradicts what was measured/,
    ],
  ])('against %s gives no strength, and both ranges', (_name, priors, change, text) => {
    const result = under(priors, change);
    expect(result.strength).toBeNull();
    expect(result.withheldBecause).toMatch(text);
    expect(result.withheldBecause).toBe(contradiction(result));
  });

  test('is told where nobody knew that of this pole, and withholds nothing by itself', () => {
    const soft = under({ soilModulus: { median: 5e5, logSd: 0.1 } });
    expect(contradiction(soft)).toMatch(/^The soil modulus set by hand contradicts what is usual/);
    expect(soft.withheldBecause ?? '').not.toMatch(/contradicts/);
    const deep = under({ settingDepthM: { median: 2.8, sd: 0.02 } }, (visit) => {
      visit.measured.tagHeightM = null;
    });
    expect(contradiction(deep)).toMatch(/^The setting depth set by hand contradicts what is usual/);
    expect(deep.withheldBecause ?? '').not.toMatch(/contradicts/);
  });

  test('however wide that prior is, since its median draws all the same', () => {
    const wide = under({ densityKgPerM3: { median: 1000, logSd: 0.4 } }, (visit) => {
      visit.measured.densityKgPerM3 = 500;
    });
    expect(wide.withheldBecause).toMatch(/^The density set by hand contradicts what was measured/);
  });

  test('is told, and withholds nothing, at a distance that one sound pole in a hundred has', () => {
    const rare = under({ densityKgPerM3: { median: 430, logSd: 0.03 } }, (visit) => {
      visit.measured.densityKgPerM3 = 395;
    });
    expect(contradiction(rare)).toMatch(
      /: 2\.8 standard deviations apart\)\. Correct the one that is wrong\.$/,
    );
    expect(rare.strength).not.toBeNull();
  });

  test('is none where the two are near, or where what it replaces makes no pole', () => {
    const measured = (visit: VisitFile) => {
      visit.measured.densityKgPerM3 = 394;
    };
    const near = under({ densityKgPerM3: { median: 410, logSd: 0.03 } }, measured);
    expect(near.strength).not.toBeNull();
    expect(contradiction(near)).toBeUndefined();
    const noDepth = under({ settingDepthM: { median: 1.6, sd: 0.1 } }, (visit) => {
      visit.pole.buttToTagM = 1;
      visit.measured.tagHeightM = 1.6;
    });
    expect(contradiction(noDepth)).toBeUndefined();
  });
});

test('a root is told as soft as without what the visit itself expects of soil and root', () => {
  const softChance = (priors?: Priors, root?: 'spring') =>
    assessChanged((visit) => {
      visit.measured.soil = 'dense-sand';
      if (priors) visit.options.priors = priors;
      if (root) visit.options.root = root;
    }).root!.softRootChance!;
  const usual = softChance();
  expect(usual).toBeGreaterThan(0.3);
  expect(softChance({ soilModulus: { median: 12e6, logSd: 0.1 } })).toBe(usual);
  expect(softChance({ rootModels: { bedded: 0, coupled: 0, spring: 1 } })).toBe(usual);
  expect(softChance({}, 'spring')).toBe(usual);
});

describe('further data that contradict the modes', () => {
  test('a pull ten times too soft is named', () => {
    const result = assessChanged((visit) => {
      visit.measured.staticPull = {
        forceN: 300,
        forceHeightM: 5,
        deflectionM: 3,
        deflectionHeightM: 5,
        azimuthDeg: 0,
      };
    });
    expect(result.furtherData).toHaveLength(1);
    expect(result.findings.map(({ id }) => id)).toContain('odd-datum');
  });

  test('heights above the tip are refused', () => {
    expect(() =>
      assessChanged((visit) => {
        visit.measured.attachments = [{ heightM: 9.9, massKg: 20 }];
      }),
    ).toThrow(/above the tip/);
  });
});

describe('what frequencies cannot see', () => {
  test('an uninspected section is said with every strength', () => {
    const { strength, findings } = concludeVisit(analysed, []).assessment;
    expect(strength!.assumes).toMatch(/not inspected/);
    expect(findings.map(({ id }) => id)).toContain('section-not-inspected');
  });

  test('an unknown class costs the requirement, not the result', () => {
    const result = assessChanged((visit) => {
      visit.pole.classCode = '8';
    });
    expect(result.requirement).toBeNull();
    expect(result.strength).not.toBeNull();
    expect(result.findings.map(({ id }) => id)).toContain('class-unknown');
  });
});
