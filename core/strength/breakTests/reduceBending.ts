/** A section of a bending specimen: round, or square to the load. */
export type BendingSection =
  | { readonly diameterM: number }
  | { readonly widthM: number; readonly depthM: number };

export type BendingTest = {
  readonly loadN: number;
  /** Between the supports. */
  readonly spanM: number;
  /**
   * Three-point: from the load to the nearer support. Four-point: from each of the two loads to its support.
   * @default half of the span; a third of it
   */
  readonly loadFromSupportM?: number;
  readonly points: 3 | 4;
  /** Where the moment is greatest. */
  readonly section: BendingSection;
};

/**
 * Reduces a bending test on two supports to the greatest moment and the modulus of rupture M / W.
 * Three-point: M = P a (l - a) / l; in the middle P l / 4, so that 8 P l / (pi d^3) round and 3 P l / (2 b h^2) square (ASTM D143, ISO 13061-3,
 * from memory). Four-point, total load P: M = P a / 2, so that 3 P a / (b h^2) square (EN 408, from memory). W = pi d^3 / 32 or b h^2 / 6. A
 * whole pole with its load at ground line is a three-point test with the load off the middle (machine test of ASTM D1036, from memory).
 */
export function reduceBending(test: BendingTest): { momentNm: number; modulusOfRupturePa: number } {
  const { loadN, spanM, points, section } = test;
  const loadFromSupportM = test.loadFromSupportM ?? spanM / (points - 1);
  const momentNm =
    points === 3
      ? (loadN * loadFromSupportM * (spanM - loadFromSupportM)) / spanM
      : (loadN * loadFromSupportM) / 2;
  const sectionModulusM3 =
    'diameterM' in section
      ? (Math.PI * section.diameterM ** 3) / 32
      : (section.widthM * section.depthM ** 2) / 6;
  return { momentNm, modulusOfRupturePa: momentNm / sectionModulusM3 };
}
