/** A blow in noise is looked for this far before and after a first guess, which noise makes late. */
const BEFORE_S = 0.024;
const AFTER_S = 0.006;
/** Level of rest, read ahead of that. */
const LEVEL_S = 0.1;
/** Straight and bent part of the rise: two samples more leave something to judge it by. */
const FEWEST_RISING = 4;
/** Twice the log likelihood that a later onset may lack: two standard deviations. */
const SLACK = 4;

/**
 * Places an onset in noise of known size: at rest up to it, from it on a rise with a slope and a bend of its own in
 * each channel (what a half-sine force gives a structure in its first milliseconds), fitted by least squares over a
 * fixed stretch. Of the onsets that are as likely within two standard deviations the latest is taken, since a rise
 * starts from nothing and the stretch before it fits one as well.
 * @param variances - of the noise, one a channel
 * @param guess - index of a first guess, at which the blow shows
 * @returns index of the last sample at rest
 */
export function pickRise(
  channels: readonly Float64Array[],
  rateHz: number,
  variances: readonly number[],
  guess: number,
): number {
  const end = Math.min(channels[0]!.length, guess + Math.round(AFTER_S * rateHz));
  const start = Math.max(0, guess - Math.round(BEFORE_S * rateHz));
  const restFrom = Math.max(0, start - Math.round(LEVEL_S * rateHz));
  const latest = end - FEWEST_RISING;
  if (start - restFrom < FEWEST_RISING || latest <= start) return guess;
  const misfits = new Float64Array(latest - start + 1);
  channels.forEach((samples, c) => {
    addMisfits(samples, meanOf(samples, restFrom, start), variances[c]!, { start, end }, misfits);
  });
  const least = misfits.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  return start + misfits.findLastIndex((misfit) => misfit <= least + SLACK);
}

function addMisfits(
  samples: Float64Array,
  level: number,
  variance: number,
  { start, end }: { readonly start: number; readonly end: number },
  into: Float64Array,
): void {
  let rest = 0;
  for (let onset = start; onset < start + into.length; onset++) {
    const left = leaveOfRise(samples, level, onset, end);
    into[onset - start]! += (rest + left) / variance;
    rest += (samples[onset]! - level) ** 2;
  }
}

/** Sum of squares that a t + b t^2 from the onset on leaves of the samples over their level. */
function leaveOfRise(samples: Float64Array, level: number, onset: number, end: number): number {
  let squares = 0;
  let t2 = 0;
  let t3 = 0;
  let t4 = 0;
  let withT = 0;
  let withT2 = 0;
  for (let i = onset; i < end; i++) {
    const t = (i - onset + 0.5) / (end - onset);
    const x = samples[i]! - level;
    squares += x * x;
    t2 += t * t;
    t3 += t * t * t;
    t4 += t * t * t * t;
    withT += t * x;
    withT2 += t * t * x;
  }
  const determinant = t2 * t4 - t3 * t3;
  const slope = (withT * t4 - withT2 * t3) / determinant;
  const bend = (withT2 * t2 - withT * t3) / determinant;
  return squares - slope * withT - bend * withT2;
}

function meanOf(samples: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += samples[i]!;
  return sum / (to - from);
}
