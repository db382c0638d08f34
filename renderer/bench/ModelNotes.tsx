import type { ReactNode } from 'react';
import type { Assessment, Bench } from '../types.ts';
import { formatChance, formatEstimate, formatShare, formatSignificant, nameAzimuth } from '../words/index.ts';
import { PriorTable } from './priors/PriorTable.tsx';
import { RootModelTable } from './priors/RootModelTable.tsx';
import { TracedResult } from './provenance/index.ts';

const PA_PER_MPA = 1e6;
const NM_PER_MNM = 1e6;
/** Which model of the root was used and why, what went in as prior knowledge, and what came out beside the result. */
export function ModelNotes({ assessment, visit }: { assessment: Assessment; visit: Bench['visit'] }) {
  const { stem, root, strength, requirement, identifiability, provenance } = assessment;
  const { pole, measured } = visit;
  const lines: [string, ReactNode][] = [];
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
      <TracedResult key="rotationalStiffness" name="rotationalStiffness">
        {formatEstimate(root.rotationalStiffnessNmPerRad, 'MN·m/rad', NM_PER_MNM)}
      </TracedResult>,
    ]);
    if (root.expectedRotationalStiffnessNmPerRad) {
      lines.push([
        'Expected from soil and depth',
        <TracedResult key="expectedStiffness" name="expectedStiffness">
          {formatEstimate(root.expectedRotationalStiffnessNmPerRad, 'MN·m/rad', NM_PER_MNM)}
        </TracedResult>,
      ]);
    }
    if (root.softRootChance !== null) {
      lines.push([
        'Chance that the root is softer than its soil explains',
        <TracedResult key="softRootChance" name="softRootChance">
          {formatChance(root.softRootChance)}
        </TracedResult>,
      ]);
    }
    if (root.settingDepthM)
      lines.push([
        'Setting depth',
        <TracedResult key="settingDepth" name="settingDepth">
          {formatEstimate(root.settingDepthM, 'm')}
        </TracedResult>,
      ]);
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
      <TracedResult
        key="narrowing"
        name="narrowing"
      >{`stem by ${formatShare(identifiability.stem)}, root by ${formatShare(identifiability.root)}`}</TracedResult>,
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
    lines.push([
      'Modulus of rupture',
      <TracedResult key="rupture" name="rupture">
        {formatEstimate(strength.modulusOfRupturePa, 'MPa', PA_PER_MPA)}
      </TracedResult>,
    ]);
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
          `${c.count} ${c.kind} at ${formatSignificant(c.heightM)} m towards ${nameAzimuth(c.azimuthDeg)}`,
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
      {assessment.priors.length > 0 && <PriorTable assessment={assessment} lengthM={pole.lengthM} />}
      {assessment.priors.length > 0 && <RootModelTable assessment={assessment} />}
      <h3>Model and inputs</h3>
      <Facts lines={lines} />
    </>
  );
}

function Facts({ lines }: { lines: readonly [string, ReactNode][] }) {
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
