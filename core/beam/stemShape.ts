import { InputError } from '../errors.ts';

/**
 * Outside of a round stem: diameters at heights above ground line, straight between stations, the end
 * slopes carried on beyond the first and the last (so that a taper also reaches below ground). A cone may end in a point.
 */
export type StemShape = { readonly heightsM: readonly number[]; readonly diametersM: readonly number[] };

/** Beyond the stations a diameter never shrinks below this share of the last piece's greater: keeps a carried-on slope from going negative. */
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
  const isBeyond = heightM < h0 || heightM > h1;
  return isBeyond ? Math.max(d, LEAST_DIAMETER_SHARE * Math.max(d0, d1)) : d;
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
 * Share kept of a measured diameter's deviation from the straight taper: real stems swell and neck by about 1.5 % of their
 * diameter, a tape errs by 0.7 % (both ours), and 1.5^2 / (1.5^2 + 0.7^2) = 0.8.
 */
const KEPT_DEVIATION = 0.8;

/**
 * Outside of a stem through measured circumferences. Two heights: a straight taper. Three or more: the straight
 * taper by least squares, and at each height measured most of what the tape showed beside it ({@link KEPT_DEVIATION}),
 * straight between; from the lowest height down and from the highest up the taper runs on beside the straight one.
 * @param girths - heights above ground line in m and circumferences in m; at least two different heights
 * @param tipHeightM - height of the tip above ground line
 * @returns stations from ground line, the first, to the tip, the last
 * @throws InputError `stem.girths` with fewer than two heights or where the stem would have no thickness
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
  const straightAt = (heightM: number): number => meanD + slope * (heightM - meanH);

  const measuredAt = [...new Set(girths.map((g) => g.heightM))].sort((a, b) => a - b);
  const deviations = measuredAt.map((heightM) => {
    const here = girths.filter((g) => g.heightM === heightM);
    const meanHere = here.reduce((s, g) => s + g.circumferenceM / Math.PI, 0) / here.length;
    return KEPT_DEVIATION * (meanHere - straightAt(heightM));
  });
  const inner = measuredAt.length > 2 ? measuredAt.filter((h) => h > 0 && h < tipHeightM) : [];
  const heightsM = [0, ...inner, tipHeightM];
  const deviationAt = (heightM: number): number => {
    const at = measuredAt.indexOf(heightM);
    if (at >= 0) return deviations[at]!;
    return heightM < measuredAt[0]! ? deviations[0]! : deviations.at(-1)!;
  };
  const diametersM = heightsM.map((h) => straightAt(h) + (inner.length > 0 ? deviationAt(h) : 0));
  const thinnest = Math.min(...diametersM);
  if (!(thinnest > 0)) {
    throw new InputError(
      'stem.girths',
      `The circumferences taper to nothing: ${(diametersM[0]! * Math.PI).toFixed(3)} m at ground line, ${(diametersM.at(-1)! * Math.PI).toFixed(3)} m at the tip.`,
      'Check the circumferences and their heights; both are in metres, and a circumference is measured around the pole, not across it.',
    );
  }
  return { heightsM, diametersM };
}
