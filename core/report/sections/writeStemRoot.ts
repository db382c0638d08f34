import type { Assessment } from '../../assessment.ts';
import { formatChance, formatEstimate, formatShare, UNITS } from '../../formatNumbers.ts';
import { drawPart, drawTable } from '../blocks.ts';
import { type Markup, type MarkupValue, markup } from '../markup.ts';
import { drawStemRoot } from '../plots/drawStemRoot.ts';
import type { ConcludedInput } from '../reportInput.ts';
import { tellIdentifiability } from './tellIdentifiability.ts';

/** The fit: stem and root with intervals, what was supposed before, and how well the data tell the two apart. */
export function writeStemRoot({ assessment, picture }: ConcludedInput): Markup {
  const { stem, root, identifiability } = assessment;
  return drawPart('Stem and root', [
    picture !== null && stem !== null && root !== null
      ? drawStemRoot(picture, stem.modulusPa, root.fixity)
      : markup`<p class="empty"><b>Stem against root:</b> nothing was fitted, so there is no picture.</p>`,
    drawTable(
      'Stem and root, medians with intervals',
      [
        { title: 'Quantity' },
        { title: 'Estimate', isNumber: true },
        { title: 'At' },
        { title: 'Supposed before the recordings' },
      ],
      [...listStem(stem), ...listRoot(root)],
      'nothing was fitted.',
    ),
    root !== null &&
      markup`<p><b>Form of root: ${root.model}.</b> ${root.chosenBecause}${root.softRootChance !== null && ` Chance that the root is softer than soil and depth explain: ${formatChance(root.softRootChance)}; a low one does not speak for the section at ground line.`}</p>`,
    writeIdentifiability(identifiability),
  ]);
}

function listStem(stem: Assessment['stem']): MarkupValue[][] {
  if (stem === null) return [];
  return [
    [
      'Modulus of elasticity of the stem',
      formatEstimate(stem.modulusPa, UNITS.gigapascal),
      formatChance(stem.modulusPa.level),
      formatEstimate(stem.priorModulusPa, UNITS.gigapascal),
    ],
    [
      'Density',
      formatEstimate(stem.densityKgPerM3, UNITS.kilogramPerCubicMetre),
      formatChance(stem.densityKgPerM3.level),
      '',
    ],
  ];
}

function listRoot(root: Assessment['root']): MarkupValue[][] {
  if (root === null) return [];
  const stiffness = root.rotationalStiffnessNmPerRad;
  const expected = root.expectedRotationalStiffnessNmPerRad;
  const rows: MarkupValue[][] = [
    [
      'Rotational stiffness of the root',
      formatEstimate(stiffness, UNITS.meganewtonMetrePerRadian),
      formatChance(stiffness.level),
      expected === null
        ? ''
        : `${formatEstimate(expected, UNITS.meganewtonMetrePerRadian)}, from soil and depth`,
    ],
    ['Fixity', formatEstimate(root.fixity, UNITS.none), formatChance(root.fixity.level), ''],
    [
      'Fixity / (fixity + 1): 0 loose, 1 rigid',
      formatEstimate(root.fixityMapped, UNITS.none),
      formatChance(root.fixityMapped.level),
      '',
    ],
  ];
  if (root.settingDepthM !== null) {
    rows.push([
      'Setting depth',
      formatEstimate(root.settingDepthM, UNITS.metre),
      formatChance(root.settingDepthM.level),
      '',
    ]);
  }
  if (root.soilModulus !== null) {
    const isSand = root.soilModulus.unit === 'N/m3';
    rows.push([
      isSand ? 'Soil, growth of subgrade modulus with depth' : 'Soil, subgrade modulus',
      formatEstimate(
        root.soilModulus,
        isSand ? UNITS.meganewtonPerCubicMetre : UNITS.meganewtonPerSquareMetre,
      ),
      formatChance(root.soilModulus.level),
      '',
    ]);
  }
  return rows;
}

function writeIdentifiability(identifiability: Assessment['identifiability']): Markup {
  if (identifiability === null) {
    return markup`<p class="empty"><b>Identifiability:</b> not judged, as nothing was fitted.</p>`;
  }
  const { stem, root, verdict, advice } = identifiability;
  return markup`<p><b>Identifiability: ${verdict}.</b> ${tellIdentifiability(verdict)} They narrowed what was supposed of the stem by ${formatShare(stem)} and of the root by ${formatShare(root)}. ${advice}</p>`;
}
