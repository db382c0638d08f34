import { sectionModulus } from '../sectionModulus.ts';

export type CantileverTest = {
  /** That broke it, square to the pole. */
  readonly loadN: number;
  /** Above ground line, or the support that stood for it. */
  readonly loadHeightM: number;
  /** By how much the load's point had come nearer along the pole's first line when it broke. @default 0 */
  readonly armLossM?: number;
  readonly groundlineCircumferenceM: number;
  /** Below ground line counts as at it. @default 0 */
  readonly breakHeightM?: number;
  /** Needed where it broke above ground line. */
  readonly breakCircumferenceM?: number;
};

export type ReducedCantilever = {
  readonly groundlineMomentNm: number;
  /** Greatest fibre stress at ground line when it broke: what a groundline modulus of rupture means where it broke there. */
  readonly groundlineStressPa: number;
  /** Modulus of rupture: greatest fibre stress where it broke. */
  readonly breakStressPa: number;
};

/**
 * Reduces a cantilever test to moment and stress: M = P (L - dL) at ground line, M (L - z) / L at height z, stress
 * 32 pi^2 M / C^3 of the solid round section there (M / W with W = C^3 / (32 pi^2)).
 * Source: mechanics of a beam; ASTM D1036 reports both stresses by it, EN 14229 annex C that of the break. Neither was read beyond its
 * scope, so the forms are from memory; that both stresses are the same where a pole breaks at ground line is
 * stated of the ANSI O5.1 data in a public paper of its committee (2002 update, opening pages read).
 * The loss of arm is shared along the pole in proportion to height (ours).
 * @throws InputError of {@link sectionModulus}
 */
export function reduceCantilever(test: CantileverTest): ReducedCantilever {
  const { loadN, loadHeightM, armLossM = 0, groundlineCircumferenceM } = test;
  const breakHeightM = Math.max(0, test.breakHeightM ?? 0);
  const breakCircumferenceM =
    breakHeightM === 0 ? groundlineCircumferenceM : (test.breakCircumferenceM ?? groundlineCircumferenceM);
  const groundlineMomentNm = loadN * (loadHeightM - armLossM);
  const breakMomentNm = (groundlineMomentNm * (loadHeightM - breakHeightM)) / loadHeightM;
  return {
    groundlineMomentNm,
    groundlineStressPa: groundlineMomentNm / sectionModulus(groundlineCircumferenceM, null).sectionModulusM3,
    breakStressPa: breakMomentNm / sectionModulus(breakCircumferenceM, null).sectionModulusM3,
  };
}
