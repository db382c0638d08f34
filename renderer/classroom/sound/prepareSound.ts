/** How many times as fast a blow is played. Powers of two are whole octaves. */
export const SPEEDS = [8, 16, 32] as const;
export type Speed = (typeof SPEEDS)[number];

/** Rates that every browser plays (Web Audio API 1.1, BaseAudioContext.createBuffer). */
const LOWEST_RATE_HZ = 8000;
const HIGHEST_RATE_HZ = 96_000;
/** Below full scale, so that no loudspeaker clips a blow that is none. */
const PEAK = 0.8;
/** Faded out over this share of the blow, so that its end does not click. */
const FADE_SHARE = 0.02;
/** What a pole says lies between these. */
const POLE_HZ = [2, 60] as const;

export type Sound = {
  samples: Float32Array;
  /** Rate that the samples are handed over at. */
  rateHz: number;
  /** How much faster than that rate they are to be played: more than 1 where the rate would be out of range. */
  playbackRate: number;
  /** Of the sound as played. */
  durationS: number;
};

/**
 * Prepares samples for the ear: played `speed` times as fast, without their mean, up to one height. What rings at f hertz
 * sounds at f times the speed.
 * @param samples - accelerations, one or more
 */
export function prepareSound(samples: readonly number[], sampleRateHz: number, speed: Speed): Sound {
  const wantedHz = sampleRateHz * speed;
  const rateHz = Math.min(Math.max(wantedHz, LOWEST_RATE_HZ), HIGHEST_RATE_HZ);
  const mean = samples.reduce((sum, value) => sum + value, 0) / samples.length;
  const peak = samples.reduce((most, value) => Math.max(most, Math.abs(value - mean)), 0);
  const fade = Math.max(1, Math.round(FADE_SHARE * samples.length));
  return {
    samples: Float32Array.from(samples, (value, i) => {
      const fading = Math.min(1, (samples.length - i) / fade);
      return peak === 0 ? 0 : (PEAK * fading * (value - mean)) / peak;
    }),
    rateHz,
    playbackRate: wantedHz / rateHz,
    durationS: samples.length / wantedHz,
  };
}

/** What a listener must know of the speed: `16 times as fast, 4 octaves up: 2 to 60 Hz sound as 32 to 960 Hz`. */
export function describeSpeed(speed: Speed): string {
  const [low, high] = POLE_HZ;
  return `${speed} times as fast, ${Math.log2(speed)} octaves up: ${low} to ${high} Hz sound as ${low * speed} to ${high * speed} Hz`;
}
