import type { Assessment, Bench } from '../../types.ts';
import { formatEstimate, formatShare, formatSignificant } from '../../words/index.ts';
import type { Explanation } from './explanation.ts';

const CM_PER_M = 100;
const MM_PER_M = 1000;
const CM3_PER_M3 = 1e6;
/** Name under which a result lists the girth that its section was computed from. */
const GROUNDLINE_GIRTH = 'girth at ground line';

/** How the section modulus at ground line came about; null without a capacity. */
export function explainSectionModulus(
  { strength, priors }: Assessment,
  { measured }: Bench['visit'],
): Explanation | null {
  if (!strength) return null;
  const girth = priors.find(({ name }) => name === GROUNDLINE_GIRTH);
  const shellM = measured.shellThicknessM;
  const diameterM = girth && girth.median / Math.PI;
  // a shell of half the diameter is solid wood
  const isShell = shellM != null && diameterM !== undefined && 2 * shellM < diameterM;
  return {
    title: 'Section modulus at ground line',
    value: `${formatSignificant(strength.sectionModulusM3 * CM3_PER_M3)} cm³`,
    formula: isShell
      ? 'π (d⁴ − dᵢ⁴) / (32 d), dᵢ = d − 2 × shell: a round section with a hollow in its middle'
      : 'π d³ / 32, d = girth / π: a round section, solid',
    inputs: [
      [
        'girth at ground line',
        girth ? formatEstimate({ ...girth, value: girth.median }, 'm') : 'not kept with this result',
        'groundlineGirth',
      ],
      ['diameter d', diameterM === undefined ? 'unknown' : `${formatSignificant(diameterM * CM_PER_M)} cm`],
      [
        'sound shell',
        shellM == null ? 'not bored: taken as solid' : `${formatSignificant(shellM * MM_PER_M)} mm, bored`,
      ],
    ],
    source: 'Bending of a round section (textbook); docs/physics.md, "Strength and requirement"',
  };
}

/** How the girth at ground line came about; null where the result does not list it. */
export function explainGroundlineGirth(
  { priors }: Assessment,
  { measured, pole }: Bench['visit'],
): Explanation | null {
  const girth = priors.find(({ name }) => name === GROUNDLINE_GIRTH);
  if (!girth) return null;
  const tip = priors.find(({ name }) => name === 'girth at the tip');
  return {
    title: 'Girth at ground line',
    value: formatEstimate({ ...girth, value: girth.median }, 'm'),
    formula: 'along the taper through the girths that were measured, carried on to ground line',
    inputs: [
      ...measured.circumferences.map(
        ({ heightM, circumferenceM }) =>
          [`by tape at ${formatSignificant(heightM)} m`, `${formatSignificant(circumferenceM)} m`] as const,
      ),
      ['tip', tip ? formatEstimate({ ...tip, value: tip.median }, 'm') : 'unknown'],
      ['length and class', `${formatSignificant(pole.lengthM)} m, ${pole.classCode ?? 'no class given'}`],
      ...(girth.spread ? [['standard deviation', formatShare(girth.spread.sd)] as const] : []),
    ],
    source: `${girth.source}; visit file, measured.circumferences${tip ? `; tip: ${tip.source}` : ''}`,
  };
}
