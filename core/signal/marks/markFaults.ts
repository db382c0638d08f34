import type { CalibratedRecording } from '../../recording/index.ts';
import type { Check, CheckId } from '../checks/check.ts';
import { findSecondImpact } from '../checks/checkDoubleBlow.ts';
import { findHum } from '../checks/checkMainsHum.ts';
import { type Evidence, gatherEvidence, MODE_BANDS, sumPower } from '../checks/evidence.ts';
import type { Strike } from '../strike.ts';
import { type FaultMark, mark } from './faultMark.ts';
import { markClipping } from './markClipping.ts';
import { markTapping } from './markTapping.ts';

/** The lines that the check of hum reads: the mains and two multiples, each drawn this wide. */
const HUM_MULTIPLES = [1, 2, 3] as const;
const HUM_HALF_WIDTH_HZ = 1;

const MARKERS: Readonly<Partial<Record<CheckId, (evidence: Evidence) => FaultMark[]>>> = {
  clipping: markClipping,
  'double-blow': markSecondImpact,
  noise: markNoise,
  'cut-short': markEnd,
  'low-band': () => [
    mark('low-band', 'nothing stands out where mode 1 lies', {
      frequencyHz: [MODE_BANDS[0].lowHz, MODE_BANDS[0].highHz],
    }),
  ],
  'weak-plane': markWeakPlane,
  'mains-hum': markHum,
  rattle: markTapping,
  offset: markOffset,
  corner: markCorner,
};

/**
 * Tells where in the picture of a strike each of its faults shows, for the eye: the checks judge, this points.
 * Disagreement between strikes has no place within one, and gets no mark.
 * @param checks - of this strike; those that found nothing are passed over
 * @returns none where nothing is wrong
 */
export function markFaults(
  recording: CalibratedRecording,
  strike: Strike,
  checks: readonly Check[],
): FaultMark[] {
  const faults = checks.filter(({ verdict }) => verdict !== 'use');
  if (faults.length === 0) return [];
  const [evidence] = gatherEvidence(recording, [strike]);
  return faults.flatMap(({ id }) => MARKERS[id]?.(evidence!) ?? []);
}

function markSecondImpact(evidence: Evidence): FaultMark[] {
  const second = findSecondImpact(evidence);
  if (second === null || second.share === 0) return [];
  const atS = evidence.strike.startS + second.afterS;
  const words = `second impact, ${(1000 * second.afterS).toFixed(0)} ms after the first`;
  return [mark('double-blow', words, { timeS: [atS, atS] })];
}

function markNoise({ recording, strike, knowsNoise }: Evidence): FaultMark[] {
  if (!knowsNoise) return [];
  const { startIndex, endIndex } = strike.noise;
  return recording.channels.map((_, c) =>
    mark('noise', 'already this loud at rest', {
      channel: c,
      timeS: [startIndex / recording.sampleRateHz, endIndex / recording.sampleRateHz],
      level: { mPerS2: strike.noiseRms[c]!, bothSides: true },
    }),
  );
}

function markEnd({ strike }: Evidence): FaultMark[] {
  const words =
    strike.endReason === 'next strike' ? 'the next blow cuts in' : 'ends while the pole still rings';
  return [mark('cut-short', words, { timeS: [strike.endS, strike.endS] })];
}

function markWeakPlane({ recording, levels }: Evidence): FaultMark[] {
  const powers = levels.map(sumPower);
  const weakest = powers.indexOf(Math.min(...powers));
  const azimuth = recording.channels[weakest]!.azimuthDeg;
  return [mark('weak-plane', `the plane at ${Math.round(azimuth)}° hardly moves`, { channel: weakest })];
}

function markHum(evidence: Evidence): FaultMark[] {
  const hum = findHum(evidence);
  if (hum === null || hum.share === 0) return [];
  return HUM_MULTIPLES.map((multiple) => {
    const lineHz = multiple * hum.mainsHz;
    return mark('mains-hum', `hum, ${lineHz} Hz`, {
      frequencyHz: [lineHz - HUM_HALF_WIDTH_HZ, lineHz + HUM_HALF_WIDTH_HZ],
    });
  });
}

/** Mean of each channel over the ring-down: where it stands off zero, the swing is not about zero. */
function markOffset({ recording, strike }: Evidence): FaultMark[] {
  return recording.channels.map(({ samplesMPerS2 }, c) => {
    const samples = samplesMPerS2.subarray(strike.startIndex, strike.endIndex);
    const mean = samples.reduce((sum, value) => sum + value, 0) / samples.length;
    return mark('offset', 'swings about this level, not about zero', {
      channel: c,
      timeS: [strike.startS, strike.endS],
      level: { mPerS2: mean, bothSides: false },
    });
  });
}

function markCorner({ recording }: Evidence): FaultMark[] {
  const cornerHz = Math.max(...recording.channels.map((channel) => channel.cornerHz ?? 0));
  return [mark('corner', `below ${cornerHz} Hz little passes`, { frequencyHz: [0, cornerHz] })];
}
