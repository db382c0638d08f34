import type { Assessment, Bench } from '../types.ts';
import { formatChance, formatEstimate, formatShare, formatSignificant } from '../words/index.ts';

type Prior = Assessment['priors'][number];

const PA_PER_MPA = 1e6;
const NM_PER_KNM = 1e3;
/** Units of priors that read better by the thousand: SI unit -> what is shown, and how many of the one in the other. */
const PRIOR_UNITS: Readonly<Record<string, readonly [string, number]>> = {
  Pa: ['GPa', 1e9],
  'N/m2': ['MN/m²', 1e6],
  'N/m3': ['MN/m³', 1e6],
  'N m/rad': ['kN·m/rad', 1e3],
  'kg/m3': ['kg/m³', 1],
};

/** Which model of the root was used and why, what went in as prior knowledge, and what came out beside the result. */
export function ModelNotes({ assessment, visit }: { assessment: Assessment; visit: Bench['visit'] }) {
  const { stem, root, strength, requirement, identifiability, provenance } = assessment;
  const { measured } = visit;
  const lines: [string, string][] = [];
  if (root) {
    lines.push(['Root model', `${root.model}: ${root.chosenBecause}`]);
    if (root.models.length > 1) {
      lines.push([
        'Averaged over root models',
        root.models.map(({ model, probability }) => `${model} ${formatChance(probability)}`).join(', '),
      ]);
    }
    lines.push([
      'Rotational stiffness',
      formatEstimate(root.rotationalStiffnessNmPerRad, 'kN·m/rad', NM_PER_KNM),
    ]);
    if (root.expectedRotationalStiffnessNmPerRad) {
      lines.push([
        'Expected from soil and depth',
        formatEstimate(root.expectedRotationalStiffnessNmPerRad, 'kN·m/rad', NM_PER_KNM),
      ]);
    }
    if (root.softRootChance !== null) {
      lines.push([
        'Chance that the root is softer than its soil explains',
        formatChance(root.softRootChance),
      ]);
    }
    if (root.settingDepthM) lines.push(['Setting depth', formatEstimate(root.settingDepthM, 'm')]);
    if (root.soilModulus) {
      lines.push([
        'Soil modulus',
        formatEstimate(root.soilModulus, root.soilModulus.unit === 'N/m3' ? 'MN/m³' : 'MN/m²', PA_PER_MPA),
      ]);
    }
  }
  if (root) lines.push(['Fixity from 0 loose to 1 rigid', formatEstimate(root.fixityMapped, '')]);
  if (identifiability) {
    lines.push([
      'Usual range narrowed by the data',
      `stem by ${formatShare(identifiability.stem)}, root by ${formatShare(identifiability.root)}`,
    ]);
  }
  if (stem) {
    lines.push(['Density', formatEstimate(stem.densityKgPerM3, 'kg/m³')]);
  }
  for (const datum of assessment.furtherData) {
    lines.push([
      datum.name,
      `measured ${formatSignificant(datum.measured)}, predicted ${formatSignificant(datum.predicted)}, off by ${datum.residual.toFixed(1)} sd`,
    ]);
  }
  if (strength) {
    lines.push(['Calibration', strength.calibration]);
    lines.push(['Modulus of rupture', formatEstimate(strength.modulusOfRupturePa, 'MPa', PA_PER_MPA)]);
  }
  if (requirement) {
    lines.push(['Requirement from', requirement.source]);
    lines.push([
      'Threshold',
      `${formatSignificant(requirement.ruleFactor)} of the requirement: ${requirement.ruleSource}`,
    ]);
  }
  lines.push([
    'Circumferences',
    measured.circumferences
      .map((c) => `${formatSignificant(c.circumferenceM)} m at ${formatSignificant(c.heightM)} m`)
      .join(', '),
  ]);
  lines.push(['Soil', measured.soil.replaceAll('-', ' ')]);
  lines.push([
    'Cables',
    measured.cables
      .map(
        (c) =>
          `${c.count} ${c.kind} at ${formatSignificant(c.heightM)} m towards ${Math.round(c.azimuthDeg)}°`,
      )
      .join(', ') || 'none recorded',
  ]);
  lines.push([
    'Attachments',
    measured.attachments
      .map(
        (a) => `${a.kind ?? 'mass'} ${formatSignificant(a.massKg)} kg at ${formatSignificant(a.heightM)} m`,
      )
      .join(', ') || 'none recorded',
  ]);
  lines.push(['Program', `${provenance.program}, seed ${provenance.seed}`]);
  lines.push(['Inputs, SHA-256', provenance.inputsSha256]);
  return (
    <>
      <Facts lines={lines} />
      {assessment.priors.length > 0 && (
        <>
          <h3>Taken as known before recording: median, 90 % range, source</h3>
          <Facts lines={assessment.priors.map(describePrior)} />
        </>
      )}
    </>
  );
}

function describePrior({ name, median, low, high, unit, source }: Prior): [string, string] {
  const [shownUnit, perUnit] = PRIOR_UNITS[unit] ?? [unit, 1];
  return [name, `${formatEstimate({ value: median, low, high }, shownUnit, perUnit)}. ${source}`];
}

function Facts({ lines }: { lines: readonly [string, string][] }) {
  return (
    <dl className="facts">
      {lines.map(([term, words]) => (
        <div key={term}>
          <dt>{term}</dt>
          <dd>{words}</dd>
        </div>
      ))}
    </dl>
  );
}
