import { InputError } from '../errors.ts';

/**
 * Outside of a round stem: diameters at heights above ground line, straight between stations, the end
 * slopes carried on beyond the first and the last (so that a taper also reaches below ground).
 */
export type StemShape = { readonly heightsM: readonly number[]; readonly diametersM: readonly number[] };

/** A pole's diameter never shrinks below this share of its greatest: keeps a carried-on slope from going negative. */
const LEAST_DIAMETER_SHARE = 0.05;

/** Diameter in m at a height in m above ground line (negative: below). */
export function diameterAtM(shape: StemShape, heightM: number): number {
  const { heightsM, diametersM } = shape;
  let i = 0;
  while (i < heightsM.length - 2 && heightM > heightsM[i + 1]!) i++;
  const h0 = heightsM[i]!;
  const d0 = diametersM[i]!;
  const h1 = heightsM[i + 1]!;
  const d1 = diametersM[i + 1]!;
  const d = d0 + ((d1 - d0) * (heightM - h0)) / (h1 - h0);
  return Math.max(d, LEAST_DIAMETER_SHARE * Math.max(d0, d1));
}

/** Area in m2 of a solid round section of diameter d in m. */
export function areaM2(diameterM: number): number {
  return (Math.PI * diameterM ** 2) / 4;
}

/** Second moment of area in m4 of a solid round section of diameter d in m: pi d^4 / 64. */
export function secondMomentM4(diameterM: number): number {
  return (Math.PI * diameterM ** 4) / 64;
}

/**
 * Straight taper through measured circumferences, by least squares where there are more than two.
 * @param girths - heights above ground line in m and circumferences in m; at least two different heights
 * @param tipHeightM - height of the tip above ground line
 * @throws InputError `stem.girths` with fewer than two heights or where the tip would have no thickness
 */
export function fitStemShape(
  girths: readonly { heightM: number; circumferenceM: number }[],
  tipHeightM: number,
): StemShape {
  const n = girths.length;
  const meanH = girths.reduce((s, g) => s + g.heightM, 0) / Math.max(n, 1);
  const meanD = girths.reduce((s, g) => s + g.circumferenceM / Math.PI, 0) / Math.max(n, 1);
  const spread = girths.reduce((s, g) => s + (g.heightM - meanH) ** 2, 0);
  if (!(spread > 0)) {
    throw new InputError(
      'stem.girths',
      `A taper needs circumferences at two different heights; ${n} given${n > 0 ? ` at ${girths[0]!.heightM} m` : ''}.`,
      'Give a second circumference, the tip circumference, or the class of the pole.',
    );
  }
  const slope =
    girths.reduce((s, g) => s + (g.heightM - meanH) * (g.circumferenceM / Math.PI - meanD), 0) / spread;
  const groundM = meanD - slope * meanH;
  const tipM = groundM + slope * tipHeightM;
  if (!(tipM > 0) || !(groundM > 0)) {
    throw new InputError(
      'stem.girths',
      `The circumferences taper to nothing: ${(groundM * Math.PI).toFixed(3)} m at ground line, ${(tipM * Math.PI).toFixed(3)} m at the tip.`,
      'Check the circumferences and their heights; both are in metres.',
    );
  }
  return { heightsM: [0, tipHeightM], diametersM: [groundM, tipM] };
}
