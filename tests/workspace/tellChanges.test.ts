import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { KeptMode } from '../../core/workspace/keepModes.ts';
import { type DatedSummary, tellChanges } from '../../core/workspace/register/tellChanges.ts';
import { NOT_ASSESSED, type ResultSummary } from '../../core/workspace/summarise.ts';
import { inventedSummary } from './inventRegister.ts';

const interval = (value: number) => ({ value, low: value * 0.9, high: value * 1.1 });

/** Modes of one plane from the lowest on; the one at 90 degrees is the second of its visit. */
const plane = (azimuthDeg: number, ...frequenciesHz: number[]): KeptMode[] =>
  frequenciesHz.map((frequencyHz, i) => ({
    plane: azimuthDeg === 90 ? 1 : 0,
    azimuthDeg,
    number: i + 1,
    frequencyHz,
  }));

const sound: ResultSummary = {
  ...NOT_ASSESSED,
  verdict: 'assessed',
  capacityNm: interval(90e3),
  modulusIntervalPa: interval(11e9),
  fixityInterval: interval(8),
  modes: plane(0, 2.1, 9.4, 25),
};
const before = { date: '2016-04-27', summary: sound };
const withModes = (...modes: KeptMode[]): ResultSummary => ({ ...sound, modes });
const at = (date: string, ...modes: KeptMode[]): DatedSummary => ({ date, summary: withModes(...modes) });
const wordsOf = (earlier: readonly DatedSummary[], now: ResultSummary) =>
  tellChanges(earlier, now)?.words ?? null;

describe('tellChanges', () => {
  it('tells nothing without an earlier visit, of what two measurements explain, and of no result', () => {
    expect(tellChanges([], sound)).toBeNull();
    expect(tellChanges([before], { ...sound, modulusIntervalPa: interval(11.5e9) })).toBeNull();
    expect(tellChanges([before], NOT_ASSESSED)).toBeNull();
    expect(tellChanges([{ ...before, summary: NOT_ASSESSED }], sound)).toBeNull();
  });

  it('tells what has changed by more, and since when', () => {
    // ln(0.8) is 0.223; an interval of 0.9 to 1.1 has a deviation of 0.061, two of them together 0.086: 2.6 of them
    const now = { ...sound, modulusIntervalPa: interval(8.8e9), modes: plane(0, 1.9, 9.4) };
    expect(wordsOf([before], now)).toBe('f1 of plane 1 (0°) 10 % lower, E 20 % lower than on 2016-04-27');
  });

  it('folds frequencies that went alike into one range', () => {
    // by hand: 1.9 / 2.1 = 0.905, 8.8 / 9.4 = 0.936, 23 / 25 = 0.92; 2.3 / 2.1 = 1.095
    const fell = withModes(...plane(0, 1.9, 8.8, 23));
    expect(wordsOf([before], fell)).toBe('all frequencies 6 to 10 % lower than on 2016-04-27');
    const some = withModes(...plane(0, 1.9, 8.8, 25));
    expect(wordsOf([before], some)).toBe('2 of 3 frequencies 6 to 10 % lower than on 2016-04-27');
    const even = withModes(...plane(0, 1.68, 7.52, 20));
    expect(wordsOf([before], even)).toBe('all frequencies 20 % lower than on 2016-04-27');
    const apart = withModes(...plane(0, 2.3, 8.8, 23));
    expect(wordsOf([before], apart)).toBe(
      '2 of 3 frequencies 6 to 8 % lower, f1 of plane 1 (0°) 10 % higher than on 2016-04-27',
    );
  });

  it('tells in full how far each frequency went, since when, and what else could have done it', () => {
    const { id, text } = tellChanges([before], withModes(...plane(0, 1.9, 8.8, 24.9)))!.finding;
    expect(id).toBe('changed-between-visits');
    // by hand: 1.9 / 2.1 = 0.905, 8.8 / 9.4 = 0.936, 24.9 / 25 = 0.996
    expect(text).toContain(
      'Compared with the visit of 2016-04-27: f1 of plane 1 (0°) 10 % lower (2.10 to 1.90 Hz), f2 of plane 1 (0°) 6 % lower (9.40 to 8.80 Hz).',
    );
    expect(text).toContain('more than measuring again explains');
    expect(text).toContain('compare at like season and moisture');
    expect(text).toContain('Excavate, sound and bore');
    expect(text).not.toContain('joint uncertainty');
  });

  it('tells the figures of what was fitted as well, with digits enough to follow the percent', () => {
    // by hand: 8.8 / 11 = 0.8
    const { text } = tellChanges([before], { ...sound, modulusIntervalPa: interval(8.8e9) })!.finding;
    expect(text).toContain('E 20 % lower (11.0 to 8.80 GPa).');
    expect(text).toContain('joint uncertainty');
  });

  it('says of a rise that a pole does not grow stronger, and that frost does as much', () => {
    const { text } = tellChanges([before], withModes(...plane(0, 2.3, 9.4, 25)))!.finding;
    expect(text).toContain('f1 of plane 1 (0°) 10 % higher (2.10 to 2.30 Hz)');
    expect(text).toContain('does not grow stronger: look for frozen or drier ground');
    expect(text).not.toMatch(/season do not explain|Excavate/);
  });

  it('gives each its rule where a frequency and E are told', () => {
    const now = { ...sound, modulusIntervalPa: interval(8e9), modes: plane(0, 1.9) };
    const { text } = tellChanges([before], now)!.finding;
    expect(text).toContain('more than measuring again explains');
    expect(text).toContain('twice the joint uncertainty');
  });
});

describe('tellChanges over several visits', () => {
  it('tells a slow fall by the first visit, where the last one before tells nothing', () => {
    const earlier = [at('2016-04-27', ...plane(0, 2.1)), at('2021-05-02', ...plane(0, 2.02))];
    const now = withModes(...plane(0, 1.95));
    expect(tellChanges(earlier.slice(1), now)).toBeNull();
    expect(wordsOf(earlier, now)).toBe('f1 of plane 1 (0°) 7 % lower than on 2016-04-27');
  });

  it('tells the fall since the first visit before the rise since the last, and what to do about both', () => {
    const earlier = [at('2000-05-01', ...plane(0, 2.5)), at('2020-05-01', ...plane(0, 1.9))];
    // by hand: 2.00 / 2.50 = 0.80, 2.00 / 1.90 = 1.053
    const { words, finding } = tellChanges(earlier, withModes(...plane(0, 2)))!;
    expect(words).toBe(
      'f1 of plane 1 (0°) 20 % lower than on 2000-05-01; f1 of plane 1 (0°) 5 % higher than on 2020-05-01',
    );
    expect(finding.text).toMatch(/^Compared with the visit of 2000-05-01: f1 of plane 1 \(0°\) 20 % lower/);
    expect(finding.text).toContain('Excavate, sound and bore');
    expect(finding.text).toContain('look for frozen or drier ground');
  });

  it('tells the last visit first where frequencies fell since both', () => {
    const earlier = [at('2000-05-01', ...plane(0, 2.5)), at('2020-05-01', ...plane(0, 2.2))];
    expect(wordsOf(earlier, withModes(...plane(0, 2)))).toBe(
      'f1 of plane 1 (0°) 9 % lower than on 2020-05-01; f1 of plane 1 (0°) 20 % lower than on 2000-05-01',
    );
  });

  it('goes back to the last visit that has the figure', () => {
    const failed = { date: '2020-05-01', summary: { ...NOT_ASSESSED, verdict: 'failed' as const } };
    const earlier = [at('2000-05-01', ...plane(0, 2)), at('2010-05-01', ...plane(0, 2.5)), failed];
    expect(wordsOf(earlier, withModes(...plane(0, 2)))).toBe(
      'f1 of plane 1 (0°) 20 % lower than on 2010-05-01',
    );
  });
});

describe('tellChanges by plane', () => {
  it('tells a fall in one plane alone, which is half as much of the mean', () => {
    // by hand: 1.84 / 2.00 = 0.92; the mean goes from 2.00 to 1.92, 4 %
    const earlier = [at('2016-04-27', ...plane(0, 2), ...plane(90, 2))];
    expect(wordsOf(earlier, withModes(...plane(0, 1.84), ...plane(90, 2)))).toBe(
      'f1 of plane 1 (0°) 8 % lower than on 2016-04-27',
    );
  });

  it('names a plane as the present visit does', () => {
    const earlier = [at('2016-04-27', ...plane(90, 2))];
    const now = plane(92, 1.84).map((mode) => ({ ...mode, plane: 1 }));
    expect(wordsOf(earlier, withModes(...now))).toBe('f1 of plane 2 (92°) 8 % lower than on 2016-04-27');
  });

  it('tells nothing of an unchanged pole whose second plane was not measured again', () => {
    const earlier = [at('2016-04-27', ...plane(0, 2), ...plane(90, 2.3))];
    expect(tellChanges(earlier, withModes(...plane(0, 2)))).toBeNull();
    expect(tellChanges(earlier, withModes(...plane(90, 2.3)))).toBeNull();
  });

  it.each([
    [0, 20, true],
    [0, 21, false],
    [0, 180, true],
    [0, -165, true],
    [5, 350, true],
    [-360, 360, true],
    [10, 100, false],
  ])('takes planes at %i° and %i° for alike: %s', (then, now, isAlike) => {
    const changes = tellChanges([at('2016-04-27', ...plane(then, 2))], withModes(...plane(now, 1.6)));
    expect(changes !== null).toBe(isAlike);
  });

  it('compares with the nearest of two planes that are alike', () => {
    const earlier = [at('2016-04-27', ...plane(15, 2.3), ...plane(178, 2))];
    expect(tellChanges(earlier, withModes(...plane(0, 2)))).toBeNull();
  });
});

describe('tellChanges of what carries no comparison', () => {
  it('skips E, fixity and capacity of a result that the chain withholds, then or now', () => {
    const chain = { ...sound, withheldBy: 'chain' as const, modulusIntervalPa: interval(5.5e9) };
    expect(tellChanges([before], chain)).toBeNull();
    expect(tellChanges([{ ...before, summary: chain }], sound)).toBeNull();
    const calibration = { ...chain, withheldBy: 'calibration' as const };
    expect(wordsOf([before], calibration)).toBe('E 50 % lower than on 2016-04-27');
  });

  it('keeps the frequencies of such a result', () => {
    const chain = { ...withModes(...plane(0, 1.9)), withheldBy: 'chain' as const };
    expect(wordsOf([before], chain)).toBe('f1 of plane 1 (0°) 10 % lower than on 2016-04-27');
  });

  it.each([0, -1])('skips an interval that starts at %i', (low) => {
    const reaching = { ...sound, capacityNm: { value: 20e3, low, high: 40e3 } };
    expect(tellChanges([before], reaching)).toBeNull();
    expect(tellChanges([{ ...before, summary: reaching }], sound)).toBeNull();
  });

  it('tells no equal figures, however narrow their intervals', () => {
    const sure = { ...sound, capacityNm: { value: 90e3, low: 90e3, high: 90e3 } };
    expect(tellChanges([{ ...before, summary: sure }], sure)).toBeNull();
  });

  it('never tells a result of itself, and never anything that is not a number', () => {
    fc.assert(
      fc.property(inventedSummary, inventedSummary, (one, other) => {
        const dated = [{ date: '2016-04-27', summary: one }];
        return !/NaN|Infinity/.test(JSON.stringify(tellChanges(dated, other)));
      }),
    );
    fc.assert(
      fc.property(inventedSummary, (some) => {
        // one mode a plane, as a result has it
        const modes = some.modes.slice(0, 1);
        const summary = { ...some, modes };
        return tellChanges([{ date: '2016-04-27', summary }], summary) === null;
      }),
    );
  });
});
