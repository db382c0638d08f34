import { describe, expect, it } from 'vitest';
import { speakAgainstKeeping, tellObjection } from '../../core/speakAgainstKeeping.ts';
import { assessment } from '../report/fixture.ts';

const sound = {
  ...assessment,
  findings: [],
  requirement: { ...assessment.requirement!, chanceBelow: 0.5, chanceBelowThreshold: 0.5 },
};
const withChances = (chanceBelow: number | null, chanceBelowThreshold: number | null) =>
  speakAgainstKeeping(
    { ...sound, requirement: { ...sound.requirement, chanceBelow, chanceBelowThreshold } },
    [],
  ).map(tellObjection);

describe('speakAgainstKeeping', () => {
  it('says nothing against a result up to an even chance of being below requirement and threshold', () => {
    expect(speakAgainstKeeping(sound, [])).toEqual([]);
    expect(speakAgainstKeeping({ ...sound, requirement: null }, [])).toEqual([]);
    expect(withChances(null, null)).toEqual([]);
  });

  it('names a chance beyond it, of the threshold where it falls short of both', () => {
    expect(withChances(0.72, 0.08)).toEqual([
      'the capacity is below the requirement with a chance of half or more (72 %)',
    ]);
    expect(withChances(0.98, 0.62)).toEqual([
      'the capacity is below the threshold with a chance of half or more (62 %)',
    ]);
  });

  it('names a soft root and a withheld result', () => {
    const soft = { ...sound, findings: [{ id: 'soft-root', text: '' }] };
    expect(speakAgainstKeeping(soft, [])).toEqual([{ reason: expect.stringContaining('excavate and bore') }]);
    expect(speakAgainstKeeping({ ...soft, verdict: 'withheld' }, [])).toHaveLength(2);
  });

  it('names a density off its species, and what was replaced by hand', () => {
    const findings = ['density-off-species', 'own-prior'].map((id) => ({ id, text: '' }));
    expect(speakAgainstKeeping({ ...sound, findings }, []).map(({ reason }) => reason)).toEqual([
      expect.stringContaining('weigh again'),
      expect.stringContaining('replaced by hand'),
    ]);
  });

  it('names what differs from earlier visits', () => {
    expect(speakAgainstKeeping(sound, [{ id: 'changed-between-visits', text: '' }])).toEqual([
      { reason: 'it differs from an earlier visit by more than measuring again explains' },
    ]);
  });

  it('names recordings that are those of another pole as well', () => {
    expect(speakAgainstKeeping(sound, [{ id: 'recordings-of-another-pole', text: '' }])).toEqual([
      { reason: 'its recordings are those of a visit to another pole as well' },
    ]);
  });

  it('knows nothing of a visit without a result', () => {
    expect(speakAgainstKeeping(null, [])).toEqual([{ reason: expect.stringContaining('was not assessed') }]);
  });
});
