import { describe, expect, it } from 'vitest';
import { keepModes } from '../../core/workspace/keepModes.ts';
import { isWholeSummary, NOT_ASSESSED, summarise } from '../../core/workspace/summarise.ts';
import { assessment } from '../report/fixture.ts';

const mode = assessment.modes[0]!;
const { plane, number, frequencyHz } = mode;
const candidate = { ...mode, status: 'candidate' as const };
const reading = (probability: number, of: number | null) => ({
  probability,
  numbers: [{ plane, frequencyHz: frequencyHz.value, number: of }],
});
const kept = [{ plane, azimuthDeg: mode.azimuthDeg, number, frequencyHz: frequencyHz.value }];
const disputed = [reading(0.7, number), reading(0.3, number + 1)];

describe('keepModes', () => {
  it('keeps each mode with its plane where the result is told, or only the calibration withholds it', () => {
    const result = { modes: [candidate], assignments: disputed };
    expect(keepModes(result, null)).toEqual(kept);
    expect(keepModes(result, 'calibration')).toEqual(kept);
    expect(keepModes({ modes: [], assignments: [] }, null)).toEqual([]);
  });

  it('keeps modes 1 to 3, which the register shows', () => {
    const modes = [1, 2, 3, 4].map((own) => ({ ...mode, number: own }));
    expect(keepModes({ modes, assignments: [] }, null).map((own) => own.number)).toEqual([1, 2, 3]);
  });

  it('leaves out of a result that the chain withholds what nobody confirmed and readings dispute', () => {
    expect(keepModes({ modes: [candidate], assignments: disputed }, 'chain')).toEqual([]);
    expect(keepModes({ modes: [candidate], assignments: [] }, 'chain')).toEqual([]);
    const confirmed = { ...mode, status: 'confirmed' as const };
    expect(keepModes({ modes: [confirmed], assignments: disputed }, 'chain')).toEqual(kept);
  });

  it('keeps what all but few readings agree on', () => {
    // by hand: 0.6 + 0.36 = 0.96, 0.6 + 0.3 = 0.9
    const agreed = [reading(0.6, number), reading(0.36, number), reading(0.04, null)];
    expect(keepModes({ modes: [candidate], assignments: agreed }, 'chain')).toEqual(kept);
    const fewer = [reading(0.6, number), reading(0.3, number), reading(0.1, null)];
    expect(keepModes({ modes: [candidate], assignments: fewer }, 'chain')).toEqual([]);
  });
});

describe('summarise', () => {
  it('says who withholds a result; the chain where an earlier program did not say', () => {
    expect(summarise(assessment).withheldBy).toBeNull();
    const { withheldBy: _, ...earlier } = { ...assessment, verdict: 'withheld' as const };
    expect(summarise(earlier).withheldBy).toBe('chain');
    expect(summarise({ ...earlier, withheldBy: 'calibration' }).withheldBy).toBe('calibration');
  });

  it('names what was set by hand, root models once', () => {
    const prior = (name: string, field: string, isGiven = true) => ({
      ...{ name, median: 1, low: 1, high: 1, unit: '', source: '' },
      ...{ setBy: field, isGiven },
    });
    const priors = [
      prior('density', 'options.priors.densityKgPerM3'),
      prior('setting depth', 'options.priors.settingDepthM', false),
      prior('girth at ground line', 'measured.circumferences'),
      prior('chance of a bedded root', 'options.priors.rootModels.bedded'),
      prior('chance of a spring root', 'options.priors.rootModels.spring'),
    ];
    const findings = ['own-picks', 'strikes-overruled'].map((id) => ({ id, text: '' }));
    expect(summarise({ ...assessment, priors, findings }).setByHand).toEqual([
      'density',
      'root models',
      'strikes',
      'picks',
    ]);
    expect(summarise({ ...assessment, priors: [], findings: [] }).setByHand).toEqual([]);
  });

  it('is whole only with what visits are compared by', () => {
    expect(isWholeSummary(NOT_ASSESSED)).toBe(true);
    expect(isWholeSummary(summarise(assessment))).toBe(true);
    for (const name of ['modes', 'setByHand', 'withheldBy', 'withheldBecause'] as const) {
      const { [name]: _, ...earlier } = NOT_ASSESSED;
      expect(isWholeSummary(earlier)).toBe(false);
    }
  });
});
