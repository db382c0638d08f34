/**
 * Computes the wind on a pole's face, a trapezoid of width d from ground line to tip, in N and where it acts, in m:
 * force p h (dg + dt) / 2, moment p h^2 (dg + 2 dt) / 6, so that its arm is their ratio, h (dg + 2 dt) / (3 (dg + dt)).
 * @param pressurePa - on the projected area, shape factor included
 */
export function windOnPoleFace(
  pressurePa: number,
  pole: {
    readonly tipHeightM: number;
    readonly groundlineDiameterM: number;
    readonly tipDiameterM: number;
  },
): { loadN: number; armM: number } {
  const { tipHeightM, groundlineDiameterM, tipDiameterM } = pole;
  const widths = groundlineDiameterM + tipDiameterM;
  return {
    loadN: (pressurePa * tipHeightM * widths) / 2,
    armM: (tipHeightM * (groundlineDiameterM + 2 * tipDiameterM)) / (3 * widths),
  };
}
