import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Doubtful, rankNeed } from '../../core/workspace/register/rankNeed.ts';
import { splitWords } from '../../core/workspace/register/splitWords.ts';
import { tellChanges } from '../../core/workspace/register/tellChanges.ts';
import { NOT_ASSESSED, type ResultSummary } from '../../core/workspace/summarise.ts';

const interval = (value: number) => ({ value, low: value * 0.9, high: value * 1.1 });

const sound: ResultSummary = {
  ...NOT_ASSESSED,
  verdict: 'assessed',
  frequenciesHz: [2.1, 9.4, 25],
  modulusPa: 11e9,
  fixity: 8,
  identifiability: 'separated',
  capacityNm: interval(90e3),
  requirementNm: 50e3,
  chanceBelow: 0.01,
  thresholdNm: 33e3,
  chanceBelowThreshold: 0.001,
  strikes: { found: 4, usable: 4, faults: [] },
  modulusIntervalPa: interval(11e9),
  fixityInterval: interval(8),
};
const plain: Doubtful = {
  summary: sound,
  assessmentId: 3,
  standing: 'latest',
  ruling: null,
  changes: null,
  sharer: null,
};
const of = (changes: Partial<ResultSummary>): Doubtful => ({ ...plain, summary: { ...sound, ...changes } });
const withheld = (withheldBy: 'chain' | 'calibration', withheldBecause: string) =>
  of({ verdict: 'withheld', capacityNm: null, withheldBy, withheldBecause });
const ruling = {
  rulingId: 1,
  decidedAt: '2026-05-04T08:00:00Z',
  analyst: 'A',
  decision: 'watch' as const,
  reason: 'r',
  assessmentId: 3,
  signed: null,
  withdrawn: null,
};
const kinds = (doubtful: Doubtful) => rankNeed(doubtful).reasons.map(({ kind }) => kind);

describe('rankNeed', () => {
  it('of a result that nothing questions is nothing', () => {
    expect(rankNeed(plain)).toEqual({ score: 0, reasons: [] });
  });

  it.each([
    ['failed', of({ verdict: 'failed' }), 'could not be assessed'],
    ['withheld', of({ verdict: 'withheld', capacityNm: null }), 'result withheld'],
    ['withheld', withheld('chain', 'No strike was found.'), 'result withheld: no strike was found'],
    [
      'withheld',
      withheld(
        'chain',
        'The data do not fit one stem and root: squared misfit is 6.3 times what is expected.',
      ),
      'result withheld: the data do not fit one stem and root',
    ],
    [
      'withheld',
      withheld('chain', 'The stem comes out 3.2 standard deviations stiffer than its species. Check girths.'),
      'result withheld: the stem comes out 3.2 standard deviations stiffer than its species',
    ],
    [
      'withheld',
      withheld(
        'calibration',
        'house@1: None of the tested poles are of red pine: from fewer than 3 nobody can see.',
      ),
      'result withheld by house@1: none of the tested poles are of red pine',
    ],
    ['not assessed', { ...plain, summary: NOT_ASSESSED }, 'not assessed yet'],
    ['near threshold', of({ chanceBelowThreshold: 0.4 }), '40 % chance below threshold'],
    ['near threshold', of({ chanceBelow: 0.2 }), '20 % chance below requirement'],
    [
      'near threshold',
      of({ chanceBelow: 0.8, chanceBelowThreshold: 0.09 }),
      '80 % chance below requirement, 9 % below threshold',
    ],
    [
      'near threshold',
      of({ chanceBelow: 0.97, chanceBelowThreshold: 0.01 }),
      '97 % chance below requirement',
    ],
    ['below threshold', of({ chanceBelow: 1, chanceBelowThreshold: 0.99 }), 'below the threshold'],
    ['not separated', of({ identifiability: 'one-sided' }), 'stem or root told from one side only'],
    ['no threshold', of({ requirementNm: null, chanceBelow: null }), 'no requirement known'],
    ['faulty blows', of({ strikes: { found: 4, usable: 1, faults: ['clipping'] } }), '3 of 4 blows faulty'],
    [
      'set by hand',
      of({
        setByHand: ['density', 'root models'],
        findings: [{ id: 'own-prior', text: '' }],
      }),
      'set by hand: density, root models',
    ],
    ['misfit', of({ findings: [{ id: 'misfit', text: '' }] }), 'misfit'],
    ['finding', of({ findings: [{ id: 'soft-root', text: '' }] }), 'soft root'],
    [
      'newer than ruling',
      { ...plain, ruling: { ...ruling, assessmentId: 2 } },
      'ruled "watch" on an earlier result',
    ],
  ] as const)('says why: %s', (kind, doubtful, words) => {
    const need = rankNeed(doubtful);
    expect(need.reasons).toEqual([{ kind, words }]);
    expect(need.score).toBeGreaterThan(0);
    expect(need.score).toBeLessThan(1);
  });

  it('sets no pole apart by the finding that nearly every pole has', () => {
    expect(rankNeed(of({ findings: [{ id: 'section-not-inspected', text: '' }] })).score).toBe(0);
  });

  it('is greatest for a capacity as likely below as above, and falls to both sides', () => {
    const at = (chance: number) => rankNeed(of({ chanceBelowThreshold: chance })).score;
    expect(at(0.5)).toBeGreaterThan(at(0.3));
    expect(at(0.3)).toBeCloseTo(at(0.7), 12);
    expect(at(0.3)).toBeGreaterThan(at(0.1));
  });

  it('weighs a pole no less that is more likely below its requirement, and what nearly all have hardly', () => {
    const scores = [0.3, 0.5, 0.8, 0.99].map((chanceBelow) => rankNeed(of({ chanceBelow })).score);
    expect(scores[1]).toBeGreaterThan(scores[0]!);
    expect(scores.slice(2)).toEqual([scores[1], scores[1]]);
    const limit = { findings: [{ id: 'calibration-limit', text: '' }] };
    expect(rankNeed(of(limit)).score).toBeLessThan(scores[0]!);
  });

  it('weighs a doubtful threshold above a doubtful requirement', () => {
    expect(rankNeed(of({ chanceBelow: 0.99, chanceBelowThreshold: 0.2 })).score).toBeGreaterThan(
      rankNeed(of({ chanceBelow: 0.5, chanceBelowThreshold: 0.01 })).score,
    );
  });

  it('puts several reasons in order of weight, and counts them as independent', () => {
    const need = rankNeed(
      of({ chanceBelowThreshold: 0.5, findings: [{ id: 'rival-assignment', text: '' }] }),
    );
    expect(need.reasons.map(({ kind }) => kind)).toEqual(['near threshold', 'misfit']);
    // by hand: 1 - (1 - 0.8) (1 - 0.5)
    expect(need.score).toBeCloseTo(0.9, 12);
  });

  it('is settled by a ruling on this result, by a later visit and by a corrected file', () => {
    const doubtful = of({ verdict: 'withheld' });
    expect(rankNeed({ ...doubtful, ruling }).score).toBe(0);
    expect(rankNeed({ ...doubtful, standing: 'earlier' }).score).toBe(0);
    expect(rankNeed({ ...doubtful, standing: 'corrected' }).score).toBe(0);
  });

  it('lies between 0 and 1 whatever the chances', () => {
    const chance = fc.option(fc.double({ min: 0, max: 1, noNaN: true }));
    fc.assert(
      fc.property(chance, chance, fc.integer({ min: 0, max: 9 }), (below, threshold, usable) => {
        const { score } = rankNeed(
          of({
            chanceBelow: below,
            chanceBelowThreshold: threshold,
            strikes: { found: 9, usable, faults: [] },
          }),
        );
        return score >= 0 && score < 1;
      }),
    );
  });
});

describe('tellChanges', () => {
  const before = { date: '2016-04-27', summary: sound };

  it('is a reason for another look', () => {
    expect(
      kinds({
        ...plain,
        changes: tellChanges([{ ...before, summary: { ...sound, capacityNm: interval(50e3) } }], sound),
      }),
    ).toEqual(['changed']);
  });
});

describe('splitWords', () => {
  it('holds faults of strikes, findings and rulings, in lower case', () => {
    const { shared, own } = splitWords({
      visitId: 1,
      poleId: 'TV-1',
      species: 'red-pine',
      classCode: '4',
      lengthM: 10,
      date: '2026-05-03',
      isGroundLineInspected: false,
      assessmentId: 3,
      ...sound,
      strikes: { found: 2, usable: 1, faults: ['double-blow'] },
      findings: [{ id: 'soft-root', text: 'Poor backfill.' }],
      ruling,
      standing: 'latest',
      need: { score: 0, reasons: [] },
    });
    for (const words of [
      'tv-1',
      'red pine',
      'class 4',
      'double blow',
      'soft root',
      'poor backfill',
      'watch',
    ]) {
      for (const word of words.split(' ')) expect(`${shared}\n${own}`).toContain(word);
    }
  });
});
