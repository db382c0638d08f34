/** A blow: one half-sine of force. */
export interface Pulse {
  readonly startS: number;
  readonly contactS: number;
  readonly peakN: number;
}

/** One mode as a sensor sees it: `gainPerKg` is shape at the blow times shape at the sensor, mass-normalised. */
export interface StruckMode {
  readonly frequencyHz: number;
  readonly dampingRatio: number;
  readonly gainPerKg: number;
}

/** Below this share of its first size a mode is dropped: far under the last bit of any recorder. */
const NEGLIGIBLE_SHARE = 1e-9;

/**
 * Adds to `accelerationMPerS2` the exact response of one mode to a half-sine pulse, in closed form.
 *
 * With lambda = -zeta omega + i omega_d and E(t) = e^(lambda t) * integral of e^(-lambda s) F(s), Duhamel's integral gives
 * q'' = Im(lambda^2 E) / omega_d + F. For F = P sin(nu t):
 * E = P (nu e^(lambda t) - nu cos nu t - lambda sin nu t) / (lambda^2 + nu^2) in contact, and
 * E = P nu (e^(lambda t) + e^(lambda (t - contact))) / (lambda^2 + nu^2) after it.
 */
export function addModalResponse(
  accelerationMPerS2: Float64Array,
  sampleRateHz: number,
  mode: StruckMode,
  pulse: Pulse,
): void {
  const omega = 2 * Math.PI * mode.frequencyHz;
  const decay = -mode.dampingRatio * omega;
  const omegaDamped = omega * Math.sqrt(1 - mode.dampingRatio * mode.dampingRatio);
  const nu = Math.PI / pulse.contactS;
  const scale = (pulse.peakN * mode.gainPerKg) / omegaDamped;
  // lambda^2, and w = lambda^2 / (lambda^2 + nu^2)
  const squareRe = decay * decay - omegaDamped * omegaDamped;
  const squareIm = 2 * decay * omegaDamped;
  const sumRe = squareRe + nu * nu;
  const norm = sumRe * sumRe + squareIm * squareIm;
  const wRe = (squareRe * sumRe + squareIm * squareIm) / norm;
  const wIm = (squareIm * sumRe - squareRe * squareIm) / norm;

  const stepS = 1 / sampleRateHz;
  let index = Math.max(0, Math.ceil(pulse.startS * sampleRateHz));
  for (; index < accelerationMPerS2.length; index++) {
    const t = index * stepS - pulse.startS;
    if (t >= pulse.contactS) break;
    const grown = Math.exp(decay * t);
    const sine = Math.sin(nu * t);
    const cosine = Math.cos(nu * t);
    const re = nu * grown * Math.cos(omegaDamped * t) - nu * cosine - decay * sine;
    const im = nu * grown * Math.sin(omegaDamped * t) - omegaDamped * sine;
    accelerationMPerS2[index]! += scale * (re * wIm + im * wRe) + pulse.peakN * mode.gainPerKg * sine;
  }
  if (index >= accelerationMPerS2.length) return;

  const t = index * stepS - pulse.startS;
  const sinceEnd = t - pulse.contactS;
  const a = Math.exp(decay * t);
  const b = Math.exp(decay * sinceEnd);
  let re = scale * nu * (a * Math.cos(omegaDamped * t) + b * Math.cos(omegaDamped * sinceEnd));
  let im = scale * nu * (a * Math.sin(omegaDamped * t) + b * Math.sin(omegaDamped * sinceEnd));
  [re, im] = [re * wRe - im * wIm, re * wIm + im * wRe];
  const turnRe = Math.exp(decay * stepS) * Math.cos(omegaDamped * stepS);
  const turnIm = Math.exp(decay * stepS) * Math.sin(omegaDamped * stepS);
  const negligible = NEGLIGIBLE_SHARE * Math.hypot(re, im);
  for (; index < accelerationMPerS2.length; index++) {
    accelerationMPerS2[index]! += im;
    const nextRe = re * turnRe - im * turnIm;
    im = re * turnIm + im * turnRe;
    re = nextRe;
    if (Math.abs(re) + Math.abs(im) < negligible) return;
  }
}
