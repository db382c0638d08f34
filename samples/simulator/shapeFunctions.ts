/**
 * Evaluates the cubic deflection and the consistent rotation of a two-node beam element with shear flexibility
 * (Friedman and Kosmatka 1993, Computers and Structures 47(3):473-481, from memory; Hermite's cubics where phi is 0).
 * Freedoms: deflection and rotation at the lower, then at the upper node.
 * @param xi - place in the element, 0 to 1
 * @param lengthM - length of the element
 * @param phi - 12 E I / (kappa G A lengthM^2), 0 without shear
 */
export function evaluateShape(
  xi: number,
  lengthM: number,
  phi: number,
): { deflection: number[]; slope: number[]; rotation: number[]; curvature: number[] } {
  const scale = 1 / (1 + phi);
  const xi2 = xi * xi;
  const xi3 = xi2 * xi;
  const rotationTerm = (6 * (xi - xi2)) / lengthM;
  const curvatureTerm = (6 - 12 * xi) / (lengthM * lengthM);
  const rotation = [
    -rotationTerm,
    1 - 4 * xi + 3 * xi2 + phi * (1 - xi),
    rotationTerm,
    -2 * xi + 3 * xi2 + phi * xi,
  ];
  // The shear strain (slope less rotation) is constant in the element.
  const shearStrain = [-phi / lengthM, -phi / 2, phi / lengthM, -phi / 2];
  return {
    deflection: [
      1 - 3 * xi2 + 2 * xi3 + phi * (1 - xi),
      lengthM * (xi - 2 * xi2 + xi3 + (phi / 2) * (xi - xi2)),
      3 * xi2 - 2 * xi3 + phi * xi,
      lengthM * (xi3 - xi2 - (phi / 2) * (xi - xi2)),
    ].map((value) => value * scale),
    slope: rotation.map((value, i) => (value + shearStrain[i]!) * scale),
    rotation: rotation.map((value) => value * scale),
    curvature: [
      -curvatureTerm,
      (-4 + 6 * xi - phi) / lengthM,
      curvatureTerm,
      (-2 + 6 * xi + phi) / lengthM,
    ].map((value) => value * scale),
  };
}
