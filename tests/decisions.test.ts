/**
 * What an analyst's decisions do to a result, on one invented sample visit: peaks refused, strikes overruled, priors
 * set. Its truth is not asked for; what counts is what changes and what is kept of the decision.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type AnalysedVisit, analyseVisit, assessVisit, concludeVisit } from '../core/assess.ts';
import type { Assessment } from '../core/assessment.ts';
import { collectAdvice } from '../core/collectAdvice.ts';
import { type Decision, decisionsSchema, sortDecisions } from '../core/decisions.ts';
import type { VisitInput } from '../core/readRecordings.ts';
import { parseVisitFile } from '../core/recording/index.ts';
import { makeSamples } from '../samples/make.ts';

const folder = mkdtempSync(join(tmpdir(), 'stemroot-decisions-'));
const NAME = 'KV-0104-2026.visit.json';
let input: VisitInput;
let analysed: AnalysedVisit;
let undecided: Assessment;

beforeAll(() => {
  makeSamples(folder);
  const visit = parseVisitFile(readFileSync(join(folder, 'visits', NAME), 'utf8'), NAME);
  const recordings = new Map(
    visit.recordings.map(({ file }) => [file, new Uint8Array(readFileSync(join(folder, 'visits', file)))]),
  );
  input = { visitName: NAME, visit, recordings };
  analysed = analyseVisit(input);
  undecided = concludeVisit(analysed, []).assessment;
}, 120_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The mode of a plane by its number. */
const modeOf = ({ modes }: Assessment, plane: number, number: number) =>
  modes.find((mode) => mode.plane === plane && mode.number === number);

describe('sortDecisions', () => {
  test('of none gives none of each kind', () => {
    expect(sortDecisions([])).toEqual({ picks: [], refusals: [], strikes: [], priors: [] });
  });

  test('parts decisions by what they are about', () => {
    const decisions: Decision[] = [
      { kind: 'refusal', plane: 0, frequencyHz: 9 },
      { plane: 0, number: 1, frequencyHz: 2 },
      { kind: 'strike', recording: 'a.wav', strike: 0, use: false, reason: 'a car passed' },
    ];
    expect(decisionsSchema.parse(decisions)).toEqual(decisions);
    const sorted = sortDecisions(decisions);
    expect([sorted.picks, sorted.refusals, sorted.strikes, sorted.priors].map((kind) => kind.length)).toEqual(
      [1, 1, 1, 0],
    );
  });

  test.each([
    ['a strike without a reason', { kind: 'strike', recording: 'a.wav', strike: 0, use: true, reason: ' ' }],
    [
      'a prior without a spread',
      { kind: 'prior', prior: { name: 'modulusPa', median: 1e10 }, reason: 'core' },
    ],
    ['an unknown kind', { kind: 'wish', plane: 0 }],
  ])('refuses %s', (_, decision) => {
    expect(decisionsSchema.safeParse([decision]).success).toBe(false);
  });
});

describe('a refused peak', () => {
  test('is no pick, and leaves its number to a frequency set by hand', () => {
    const second = modeOf(undecided, 0, 2)!.frequencyHz.value;
    const refusal: Decision = { kind: 'refusal', plane: 0, frequencyHz: second };
    const without = concludeVisit(analysed, [refusal]).assessment;
    expect(without.modes.some((mode) => mode.plane === 0 && mode.frequencyHz.value === second)).toBe(false);
    expect(without.otherPeaks.some((peak) => peak.plane === 0 && peak.frequencyHz === second)).toBe(true);
    const placed = concludeVisit(analysed, [refusal, { plane: 0, number: 2, frequencyHz: second * 1.04 }]);
    expect(modeOf(placed.assessment, 0, 2)?.source).toBe('analyst');
  });

  test('of every peak withholds the result, and says so', () => {
    const all = analysed.candidates.map(
      ({ plane, frequencyHz }): Decision => ({ kind: 'refusal', plane, frequencyHz: frequencyHz.value }),
    );
    expect(concludeVisit(analysed, all).assessment.withheldBecause).toBe('Every mode was refused.');
  });

  test('of mode 1 is told as refused, not as not found', () => {
    const firsts = undecided.modes
      .filter(({ number }) => number === 1)
      .map(
        ({ plane, frequencyHz }): Decision => ({ kind: 'refusal', plane, frequencyHz: frequencyHz.value }),
      );
    const { findings } = concludeVisit(analysed, firsts).assessment;
    expect(findings.find(({ id }) => id === 'mode-1-missing')?.text).toMatch(
      /^Mode 1 was refused by an analyst \([\d.]+ Hz in plane 1 \(\d+°\), /,
    );
  });

  test('of mode 1 is not called missing where stem and root cannot be told apart without it', () => {
    const allButSecond = undecided.modes
      .filter(({ number }) => number !== 2)
      .map(({ plane, number }): Decision => ({ plane, number, frequencyHz: null }));
    expect(concludeVisit(analysed, allButSecond).assessment.identifiability!.advice).toMatch(
      /^Mode 1 was refused by an analyst: take that back, or strike again with the hand, /,
    );
  });

  test('beside others that no longer count for that is not said to be every mode', () => {
    const all = undecided.modes
      .filter(({ plane, number }) => plane !== 1 || number !== 2)
      .map(
        ({ plane, frequencyHz }): Decision => ({ kind: 'refusal', plane, frequencyHz: frequencyHz.value }),
      );
    const { modes, withheldBecause } = concludeVisit(analysed, all).assessment;
    expect(modes).toEqual([]);
    expect(withheldBecause).toMatch(
      /Proposed picks that no longer count: mode 2 .* No pick is left that counts\./,
    );
  });
});

describe('a pick of the analyst', () => {
  const own = ({ findings }: Assessment) => findings.filter(({ id }) => id === 'own-picks');

  test('that confirms what was proposed is no finding, and leaves no second peak where it stands', () => {
    const { plane, number, frequencyHz } = undecided.modes[0]!;
    const { assessment } = concludeVisit(analysed, [{ plane, number, frequencyHz: frequencyHz.value }]);
    expect(own(assessment)).toEqual([]);
    const used = modeOf(assessment, plane, number)!.frequencyHz.value;
    const peaks = assessment.otherPeaks.filter((peak) => peak.plane === plane);
    expect(peaks.filter((peak) => Math.abs(peak.frequencyHz / used - 1) < 0.01)).toEqual([]);
  });

  test('that was not proposed is a finding, and stands where it was set unless a mode rings near it', () => {
    const proposed = modeOf(undecided, 0, 2)!.frequencyHz.value;
    const { assessment } = concludeVisit(analysed, [{ plane: 0, number: 2, frequencyHz: 1.18 * proposed }]);
    expect(own(assessment)).toMatchObject([
      {
        text: expect.stringMatching(/^An analyst decided otherwise than proposed: mode 2 of plane 1 set at/),
      },
    ]);
    const used = modeOf(assessment, 0, 2)?.frequencyHz.value;
    expect(used === undefined || Math.abs(used / (1.18 * proposed) - 1) < 0.05).toBe(true);
  });

  test('at the peak of another mode says what it was, what no longer counts and why, and leaves the rest of the picks', () => {
    const [first, second] = [1, 2].map((number) => modeOf(undecided, 0, number)!.frequencyHz.value);
    const { assessment } = concludeVisit(analysed, [{ plane: 0, number: 1, frequencyHz: second! }]);
    const set = modeOf(assessment, 0, 1)!;
    const setAt = set.frequencyHz.value.toPrecision(4);
    const [finding] = own(assessment);
    expect(finding!.text).toContain(
      `mode 1 of plane 1 set at ${second!.toPrecision(4)} Hz, which was proposed as mode 2`,
    );
    expect(finding!.text).toMatch(/no longer count: mode 1 of plane 1 \(\d+°\) at /);
    expect(finding!.text).toContain(
      `at ${first!.toPrecision(4)} Hz (an analyst set mode 1 of this plane at ${setAt} Hz instead)`,
    );
    expect(finding!.text).toMatch(/leave it to the program\.$/);
    expect(finding!.modes).toEqual([{ plane: 0, number: 1 }]);
    const others = ({ modes }: Assessment) =>
      modes.filter((mode) => mode.plane === 1).map(({ number, frequencyHz }) => [number, frequencyHz.value]);
    expect(others(assessment)).toEqual(others(undecided));
    // what is said to hardly count does so everywhere, and moves nothing
    expect(set.oddChance).toBeGreaterThan(0.9);
    expect(finding!.text).toContain('(it hardly counts in the result)');
    expect(finding!.text).not.toContain('rests on');
    const { value, low, high } = assessment.root!.rotationalStiffnessNmPerRad;
    expect(Math.abs(value - undecided.root!.rotationalStiffnessNmPerRad.value)).toBeLessThan(high - low);
    expect(assessment.findings.find(({ id }) => id === 'odd-pick')!.text).toContain(
      'it hardly counts in the result',
    );
  });

  test('that leaves none to count withholds the result and says so', () => {
    const missing = undecided.modes.map(
      ({ plane, number }): Decision => ({
        plane,
        number,
        frequencyHz: null,
      }),
    );
    const { assessment } = concludeVisit(analysed, missing);
    expect(assessment.verdict).toBe('withheld');
    expect(own(assessment)[0]!.text).toMatch(/No pick is left that counts\. Check what was decided/);
  });

  test('that is read at another peak than it was set at is told, and one that stays is not', () => {
    const { value } = modeOf(undecided, 0, 2)!.frequencyHz;
    const moved = (frequencyHz: number) =>
      concludeVisit(analysed, [{ plane: 0, number: 2, frequencyHz }]).assessment.findings.filter(
        ({ id }) => id === 'pick-moved',
      );
    expect(moved(value)).toEqual([]);
    expect(moved(1.04 * value)).toMatchObject([
      {
        text: expect.stringContaining(
          `was set at ${(1.04 * value).toPrecision(4)} Hz and is now found at ${value.toPrecision(4)} Hz`,
        ),
      },
    ]);
  });

  describe('far above mode 1 in one plane', () => {
    const askFor = (decisions: readonly Decision[]) => concludeVisit(analysed, decisions).assessment;
    const setHz = () => Number((1.28 * modeOf(undecided, 0, 1)!.frequencyHz.value).toPrecision(4));
    const inPlaneOne = (): Decision => ({ plane: 0, number: 1, frequencyHz: setHz() });

    test('leaves the other plane the pick that is seen there, whether it is confirmed or not', () => {
      const seenHz = modeOf(undecided, 1, 1)!.frequencyHz.value;
      const confirmed: Decision = { plane: 1, number: 1, frequencyHz: seenHz };
      for (const decisions of [[inPlaneOne()], [inPlaneOne(), confirmed]]) {
        const assessment = askFor(decisions);
        expect(modeOf(assessment, 0, 1)!.frequencyHz.value).toBe(setHz());
        expect(modeOf(assessment, 1, 1)!.frequencyHz.value / seenHz).toBeCloseTo(1, 3);
      }
    });

    test('on a peak that is seen is not told to be set on one', () => {
      const thirdHz = modeOf(undecided, 0, 3)!.frequencyHz.value;
      const [first] = collectAdvice(askFor([{ plane: 0, number: 2, frequencyHz: thirdHz }]));
      expect(first).toMatch(
        /, on a peak that may be of another number: check the number, or leave it to the program\.$/,
      );
    });

    test('is why the peak beside it is not counted, and what to do first', () => {
      const assessment = askFor([inPlaneOne()]);
      const peak = assessment.otherPeaks.find(
        ({ plane, frequencyHz }) => plane === 0 && frequencyHz < setHz(),
      );
      expect(peak!.reason).toBe(
        `Not counted: an analyst set mode 1 of this plane at ${setHz().toPrecision(4)} Hz instead.`,
      );
      const [first] = collectAdvice(assessment);
      expect(first).toMatch(/^Mode 1 of plane 1 \(\d+°\) was set by hand at/);
      expect(first).toMatch(/where no strike shows a mode: set it on a peak, or leave it to the program\.$/);
    });
  });
});

describe('a strike overruled', () => {
  const strike = { kind: 'strike', reason: 'a car passed' } as const;

  test('no longer counts where it is left out, and says so beside its verdict', () => {
    const { recording } = undecided.strikes[0]!;
    const decision: Decision = { ...strike, recording, strike: 0, use: false };
    const again = analyseVisit(analysed.input, [decision], analysed.judgement);
    expect(again.input.recordings).toBe(analysed.input.recordings);
    expect(again.segments.length).toBe(analysed.segments.length - 1);
    const { assessment } = concludeVisit(again, [decision]);
    expect(assessment.strikes[0]).toMatchObject({
      verdict: undecided.strikes[0]!.verdict,
      overruled: { use: false, reason: 'a car passed' },
    });
    expect(assessment.findings.find(({ id }) => id === 'strikes-overruled')?.text).toContain(
      'left out: a car',
    );
    expect(assessment.provenance.inputsSha256).not.toBe(undecided.provenance.inputsSha256);
    expect(assessVisit(input, [decision]).assessment).toEqual(assessment);
  });

  test('counts where its checks refuse it; without any other, the visit is one with a result to question', () => {
    const all = undecided.strikes.map(
      (other, i): Decision => ({
        ...strike,
        recording: other.recording,
        strike: undecided.strikes.slice(0, i).filter((s) => s.recording === other.recording).length,
        use: false,
      }),
    );
    const none = concludeVisit(analyseVisit(analysed.input, all, analysed.judgement), all).assessment;
    expect(none.withheldBecause).toMatch(/strikes can be used/);
    const one: Decision[] = all.map(
      (decision, i) => (i === 0 ? { ...decision, use: true } : decision) as Decision,
    );
    expect(analyseVisit(analysed.input, one, analysed.judgement).segments).toHaveLength(1);
  });

  test('to count in spite of its checks is what the advice names first', () => {
    const [kept] = undecided.strikes;
    const clipped: Assessment['strikes'][number] = {
      ...kept!,
      verdict: 'repeat',
      overruled: { use: true, reason: 'short' },
      checks: kept!.checks.map((check) =>
        check.id === 'clipping' ? { ...check, verdict: 'repeat' } : check,
      ),
    };
    const [first] = collectAdvice({ ...undecided, strikes: [clipped] });
    expect(first).toBe(
      `Used by hand in spite of the checks: ${kept!.recording} at ${kept!.startS.toFixed(2)} s (clipping). Leave out what you cannot vouch for, or strike again.`,
    );
  });

  test('that is not there is named', () => {
    const { recording } = undecided.strikes[0]!;
    const decide = (name: string, at: number) => () =>
      analyseVisit(
        analysed.input,
        [{ ...strike, recording: name, strike: at, use: true }],
        analysed.judgement,
      );
    expect(decide('none.wav', 0)).toThrow(/no such recording/);
    expect(decide(recording, 99)).toThrow(/strike 100 of .* which has \d+ strikes/);
  });
});

describe('a prior set by the analyst', () => {
  test('counts, is listed as given, and is told as a finding', () => {
    const decision: Decision = {
      kind: 'prior',
      prior: { name: 'modulusPa', median: 8e9, logSd: 0.05 },
      reason: 'a core was tested',
    };
    const { assessment } = assessVisit(input, [decision]);
    const listed = assessment.priors.find((prior) => prior.setBy === 'options.priors.modulusPa');
    expect(listed).toMatchObject({ median: 8e9, isGiven: true });
    expect(assessment.stem!.modulusPa.value).toBeLessThan(undecided.stem!.modulusPa.value);
    expect(assessment.findings.map(({ id }) => id)).toContain('own-prior');
  });

  test('on root models lets those compete that it names, whatever the visit asks for, and is told in words', () => {
    const decision: Decision = {
      kind: 'prior',
      prior: { name: 'rootModels', bedded: 0, coupled: 0.25, spring: 0.25 },
      reason: 'the ground line is paved',
    };
    expect(decisionsSchema.parse([decision])).toEqual([decision]);
    const asked = { ...input, visit: { ...input.visit, options: { root: 'bedded' as const } } };
    const { assessment } = assessVisit(asked, [decision]);
    // one that the picks speak against is not listed in the end
    expect(assessment.root!.models.map(({ model }) => model)).not.toContain('bedded');
    expect(
      assessment.priors
        .filter(({ setBy }) => setBy?.startsWith('options.priors.rootModels.'))
        .map(({ median, isGiven }) => [median, isGiven]),
    ).toEqual([
      [0.5, true],
      [0.5, true],
    ]);
    expect(assessment.findings.find(({ id }) => id === 'own-prior')?.text).toContain(
      'shares of the root models',
    );
  });

  test('that leaves every root model out is no decision', () => {
    const none = {
      kind: 'prior',
      prior: { name: 'rootModels', bedded: 0, coupled: 0, spring: 0 },
      reason: 'a slip',
    };
    expect(() => decisionsSchema.parse([none])).toThrow(/at least one root model/);
  });

  test('out of range is refused by name', () => {
    const decision: Decision = {
      kind: 'prior',
      prior: { name: 'modulusPa', median: 1, logSd: 0.05 },
      reason: 'a slip',
    };
    expect(() => assessVisit(input, [decision])).toThrow(/modulusPa/);
  });
});
