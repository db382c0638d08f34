/**
 * The checks against the invented visits of samples/, whose simulator is an independent road and whose truth
 * lists the faults of every strike. Every fault must be caught, good strikes must pass, and what no result
 * may come of must be refused.
 */
import { expect, test } from 'vitest';
import { calibrateChannels, checkVisit, readRecording } from '../../core/recording/index.ts';
import { judgeVisit } from '../../core/signal/index.ts';
import { makeVisit } from '../../samples/makeVisit.ts';
import { inventPole } from '../../samples/place.ts';
import { STORIES } from '../../samples/stories.ts';

/** The first samples of a blow carry no force; noise blurs the rest. */
const ONSET_TOLERANCE_S = 0.005;
/** Good strikes may still need care: a hammer often leaves mode 1 at rest. */
const SHARE_OF_GOOD_IN_USE = 0.9;

interface Found {
  readonly place: string;
  readonly verdict: string;
  readonly told: readonly string[];
  readonly faults: readonly string[];
  readonly offS: number;
  readonly hopeless: boolean;
}

const found: Found[] = [];
const visitsThatDisagree: string[] = [];
const counts: {
  readonly place: string;
  readonly found: number;
  readonly made: number;
  readonly hopeless: boolean;
}[] = [];
for (const story of STORIES) {
  const pole = inventPole(story);
  for (const visitStory of story.visits) {
    const made = makeVisit(pole, visitStory);
    const visit = checkVisit(made.visit, made.name);
    const hopeless = visitStory.hopeless ?? false;
    const judgement = judgeVisit(
      visit.recordings.map((entry) => {
        const bytes = made.recordings.find((recording) => recording.file === entry.file)!.bytes;
        return calibrateChannels(readRecording(bytes, entry.file), entry, entry.file);
      }),
    );
    if (judgement.repeatability.some(({ check }) => check.verdict !== 'use'))
      visitsThatDisagree.push(made.name);
    judgement.recordings.forEach(({ fileName, strikes }, r) => {
      const truths = made.recordings[r]!.strikes;
      counts.push({ place: fileName, found: strikes.length, made: truths.length, hopeless });
      for (const { strike, verdict, checks } of strikes) {
        const offs = truths.map((truth) => Math.abs(truth.startS - strike.startS));
        const offS = Math.min(...offs);
        const told = checks.filter((check) => check.verdict !== 'use').map((check) => check.id);
        const { faults } = truths[offs.indexOf(offS)]!;
        found.push({ place: `${fileName} at ${strike.startS}`, verdict, told, faults, offS, hopeless });
      }
    });
  }
}

/** Checked over a whole visit and not by strike. */
const BY_VISIT = 'repeatability';

test('every strike is found where it fell, and nothing else', () => {
  const fair = counts.filter(({ hopeless }) => !hopeless);
  expect(fair.length).toBeGreaterThan(60);
  expect(fair.filter((count) => count.found !== count.made)).toEqual([]);
  expect(found.filter(({ hopeless, offS }) => !hopeless && offS > ONSET_TOLERANCE_S)).toEqual([]);
});

test('every fault of a strike is told', () => {
  const faulty = found.filter(({ faults, hopeless }) => faults.length > 0 && !hopeless);
  expect(new Set(faulty.flatMap(({ faults }) => faults)).size).toBeGreaterThan(9);
  const missed = faulty.filter(({ faults, told }) =>
    faults.some((fault) => fault !== BY_VISIT && !(told as readonly string[]).includes(fault)),
  );
  expect(missed).toEqual([]);
});

test('no good strike is refused, and nearly all are used without care', () => {
  const good = found.filter(({ faults }) => faults.length === 0);
  expect(good.length).toBeGreaterThan(100);
  expect(good.filter(({ verdict }) => verdict === 'repeat')).toEqual([]);
  const inUse = good.filter(({ verdict }) => verdict === 'use').length;
  expect(inUse / good.length).toBeGreaterThan(SHARE_OF_GOOD_IN_USE);
});

test('every strike of which no result may come is refused', () => {
  const hopeless = found.filter((strike) => strike.hopeless);
  expect(hopeless.length).toBeGreaterThan(8);
  expect(hopeless.filter(({ verdict }) => verdict !== 'repeat')).toEqual([]);
});

test('strikes disagree where a ladder was left against the pole, and nowhere else', () => {
  const wanted = STORIES.flatMap((story) =>
    story.visits.flatMap((visit) =>
      [...(visit.hammer ?? []), ...(visit.hand ?? [])].some((faults) =>
        (faults as readonly string[]).includes(BY_VISIT),
      )
        ? [makeVisit(inventPole(story), visit).name]
        : [],
    ),
  );
  expect(wanted.length).toBeGreaterThan(0);
  expect(visitsThatDisagree).toEqual(wanted);
});
