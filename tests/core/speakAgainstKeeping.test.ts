import { describe, expect, it } from 'vitest';
import { speakAgainstKeeping } from '../../core/speakAgainstKeeping.ts';
import { assessment } from '../report/fixture.ts';

const sound = {
  ...assessment,
  findings: [],
  requirement: { ...assessment.requirement!, chanceBelowThreshold: 0.5 },
};

describe('speakAgainstKeeping', () => {
  it('says nothing against a result up to an even chance of being below the threshold', () => {
    expect(speakAgainstKeeping(sound)).toEqual([]);
    expect(speakAgainstKeeping({ ...sound, requirement: null })).toEqual([]);
  });

  it('names a chance beyond it, a soft root and a withheld result', () => {
    const weak = { ...sound, requirement: { ...sound.requirement, chanceBelowThreshold: 0.62 } };
    expect(speakAgainstKeeping(weak)).toEqual(['the capacity is below the threshold with a chance of 62 %']);
    const soft = { ...sound, findings: [{ id: 'soft-root', text: '' }] };
    expect(speakAgainstKeeping(soft)).toEqual([expect.stringContaining('excavate and bore')]);
    expect(speakAgainstKeeping({ ...soft, verdict: 'withheld' })).toHaveLength(2);
  });

  it('knows nothing of a visit without a result', () => {
    expect(speakAgainstKeeping(null)).toEqual([expect.stringContaining('was not assessed')]);
  });
});
