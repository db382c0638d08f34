/**
 * What is estimated of a blow, against the invented visits of samples/ (their simulator is another road, and the truth of each
 * contact is known) and against strikes made here.
 */
import { describe, expect, test } from 'vitest';
import { calibrateChannels, checkVisit, readRecording } from '../../core/recording/index.ts';
import { findStrikes } from '../../core/signal/index.ts';
import { makeVisit } from '../../samples/makeVisit.ts';
import { inventPole } from '../../samples/place.ts';
import { STORIES } from '../../samples/stories.ts';
import { createNoise, POLE_MODES, ringPole } from './makeStrike.ts';

interface Reading {
  readonly exciter: string;
  readonly trueS: number;
  readonly contactS: number | null;
  readonly litToHz: number | null;
}

const readings: Reading[] = STORIES.slice(0, 8).flatMap((story) => {
  const pole = inventPole(story);
  return story.visits.flatMap((visitStory) => {
    if (visitStory.hopeless) return [];
    const made = makeVisit(pole, visitStory);
    const visit = checkVisit(made.visit, made.name);
    return made.recordings.flatMap(({ bytes, exciter, strikes: truths, file }) => {
      const entry = visit.recordings.find((recording) => recording.file === file)!;
      const recording = calibrateChannels(readRecording(bytes, file), entry, file);
      const channels = recording.channels.map((channel) => channel.samplesMPerS2);
      return findStrikes(channels, recording.sampleRateHz).flatMap(({ startS, contactS, litToHz }) => {
        const truth = truths.find((one) => Math.abs(one.startS - startS) < 0.05);
        return truth === undefined || truth.faults.length > 0
          ? []
          : [{ exciter, trueS: truth.contactS, contactS, litToHz }];
      });
    });
  });
});

describe('the blow of a good strike', () => {
  test('its contact is estimated within 0.6 to 1.7 of the truth, and tells hammer from hand', () => {
    expect(readings.length).toBeGreaterThan(30);
    expect(new Set(readings.map(({ exciter }) => exciter)).size).toBe(2);
    const off = readings.filter(
      ({ contactS, trueS }) => contactS === null || contactS / trueS < 0.6 || contactS / trueS > 1.7,
    );
    expect(off).toEqual([]);
    expect(readings.filter(({ exciter, contactS }) => (exciter === 'hammer') !== contactS! < 0.015)).toEqual(
      [],
    );
  });

  test('a hammer lights up to 80 Hz or more, a hand no more than 60 Hz', () => {
    expect(
      readings.filter(({ exciter, litToHz }) => (exciter === 'hammer' ? litToHz! < 80 : litToHz! > 60)),
    ).toEqual([]);
  });
});

describe('where nothing can be told', () => {
  const find = (startS: number, durationS: number) => {
    const clean = ringPole(POLE_MODES, [{ startS, contactS: 0.005, force: 2000 }], 2000, durationS);
    const noise = createNoise(clean.length, 2);
    return findStrikes([clean.map((value, i) => value + 1e-3 * noise[i]!)], 2000)[0]!;
  };

  test('a recording that begins with the blow and ends ringing', () => {
    expect(find(0, 3)).toMatchObject({ contactS: null, litToHz: null });
  });

  test('a recording that ends with the blow', () => {
    expect(find(1, 1.1)).toMatchObject({ contactS: null, litToHz: null });
  });
});
