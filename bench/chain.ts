/**
 * Times the chain over one visit, from the bytes of its recordings to the fitted stem and root: two recordings
 * of two channels, 20 s at 4 kHz, three strikes each. Median of several runs, and the least, which other work on the
 * machine disturbs less. Run: node bench/chain.ts
 */
import { analyseVisit, concludeVisit } from '../core/assess.ts';
import { identifyModes } from '../core/modal/index.ts';
import type { VisitInput } from '../core/readRecordings.ts';
import { calibrateChannels, checkVisit, readRecording } from '../core/recording/index.ts';
import { judgeVisit } from '../core/signal/index.ts';
import { makeVisit } from '../samples/makeVisit.ts';
import { inventPole } from '../samples/place.ts';

const ROUNDS = 15;
const GOAL_MS = 120;

function time<T>(run: () => T): { ms: number; leastMs: number; value: T } {
  let value = run();
  const laps = Array.from({ length: ROUNDS }, () => {
    const started = performance.now();
    value = run();
    return performance.now() - started;
  });
  laps.sort((a, b) => a - b);
  return { ms: laps[ROUNDS >> 1]!, leastMs: laps[0]!, value };
}

const pole = inventPole({
  id: 'BN-1',
  species: 'southern-pine',
  treatment: 'none',
  classCode: '4',
  lengthM: 12.19,
  setYear: 2001,
  soil: 'medium-sand',
  backfill: 1,
  visits: [],
});
const made = makeVisit(pole, {
  date: '2026-05-01',
  hammer: [[], [], []],
  hand: [[], [], []],
  sampleRateHz: 4000,
});
const input: VisitInput = {
  visitName: made.name,
  visit: checkVisit(made.visit, made.name),
  recordings: new Map(made.recordings.map(({ file, bytes }) => [file, bytes])),
};

const read = time(() =>
  input.visit.recordings.map((entry) =>
    calibrateChannels(readRecording(input.recordings.get(entry.file)!, entry.file), entry, entry.file),
  ),
);
const judged = time(() => judgeVisit(read.value));
const analysed = time(() => analyseVisit(input));
// a list of its own each time: what is prepared for one is kept
const { segments, lookedAtHz } = analysed.value;
const identified = time(() => identifyModes([...segments], { maximumHz: lookedAtHz }));
const concluded = time(() => concludeVisit(analysed.value, []));

const lengths = read.value.map(({ frames, sampleRateHz }) => `${(frames / sampleRateHz).toFixed(1)} s`);
console.log(`recordings of ${lengths.join(' and ')}, 2 channels at 4000 Hz`);
console.log(`read: ${read.ms.toFixed(1)} ms`);
console.log(`strikes and checks: ${judged.ms.toFixed(1)} ms`);
console.log(`modes: ${identified.ms.toFixed(1)} ms`);
const chainMs = read.ms + judged.ms + identified.ms;
const leastMs = read.leastMs + judged.leastMs + identified.leastMs;
console.log(
  `signal and modal chain together: ${chainMs.toFixed(1)} ms of ${GOAL_MS}: ${chainMs <= GOAL_MS ? 'met' : 'NOT MET'} (least ${leastMs.toFixed(1)} ms)`,
);
console.log(`all of it, with the frequencies of the pole's models: ${analysed.ms.toFixed(1)} ms`);
console.log(`fit of stem and root, strength: ${concluded.ms.toFixed(1)} ms`);
