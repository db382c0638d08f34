import { ErrorNote, NumberField, type NumberLimits } from '../parts/index.ts';
import type { Thought } from '../state/index.ts';
import type { WhatIf } from '../types.ts';
import { formatSignificant, namePlane } from '../words/index.ts';
import {
  CABLE_FACTOR_LIMITS,
  FIXITY_LIMITS,
  MASS_HEIGHT_LIMITS,
  MASS_LIMITS,
  MODULUS_LIMITS,
  SETTING_DEPTH_LIMITS,
} from './numberLimits.ts';
import type { Thinking } from './useThought.ts';

const PA_PER_GPA = 1e9;
const FREQUENCY_DIGITS = 4;

type ThoughtStripProps = {
  thought: Thought;
  /** Stem and root in thought, or of the fit where they are unchanged. */
  place: NonNullable<Thought['place']>;
  thinking: Thinking;
  onChange: (change: Partial<Thought>) => void;
};

/** What is changed in thought, typed, and the frequencies that follow beside the fitted ones. */
export function ThoughtStrip({ thought, place, thinking, onChange }: ThoughtStripProps) {
  const { whatIf, failure, waiting } = thinking;
  return (
    <section className="thought-strip" aria-label="In thought, not stored">
      <div className="thought-fields">
        <strong>In thought, not stored</strong>
        <Field
          words="E"
          unit="GPa"
          label="E in thought, GPa"
          limits={MODULUS_LIMITS}
          value={place.modulusPa / PA_PER_GPA}
          onCommit={(gpa) => onChange({ place: { ...place, modulusPa: gpa * PA_PER_GPA } })}
        />
        <Field
          words="fixity"
          label="Fixity in thought"
          limits={FIXITY_LIMITS}
          value={place.fixity}
          onCommit={(fixity) => onChange({ place: { ...place, fixity } })}
        />
        <Field
          words="cables ×"
          label="Factor on the stiffness of the cables"
          limits={CABLE_FACTOR_LIMITS}
          value={thought.cableFactor}
          placeholder="1"
          onCommit={(cableFactor) => onChange({ cableFactor })}
        />
        <Field
          words="set"
          unit="m deep"
          label="Setting depth in thought, m"
          limits={SETTING_DEPTH_LIMITS}
          value={thought.settingDepthM}
          placeholder="as is"
          onCommit={(settingDepthM) => onChange({ settingDepthM })}
        />
        <span className="thought-field">
          <Field
            words="add"
            unit="kg"
            label="Added mass, kg"
            limits={MASS_LIMITS}
            value={thought.massKg}
            placeholder="0"
            onCommit={(massKg) => onChange({ massKg })}
          />
          <Field
            words="at"
            unit="m"
            label="Height of the added mass, m"
            limits={MASS_HEIGHT_LIMITS}
            value={thought.massHeightM}
            onCommit={(massHeightM) => onChange({ massHeightM })}
          />
        </span>
      </div>
      {thought.massKg !== null && thought.massHeightM === null && (
        <p>Type the height of the mass: without it, it does not count.</p>
      )}
      {failure && <ErrorNote failure={failure} />}
      {whatIf && <Frequencies whatIf={whatIf} waiting={waiting} />}
    </section>
  );
}

function Frequencies({ whatIf: { planes }, waiting }: { whatIf: WhatIf; waiting: boolean }) {
  return (
    <table className="thought-table" aria-label="Frequencies as fitted and in thought" aria-busy={waiting}>
      <caption>{waiting ? 'working it out' : 'Hz, fitted → in thought'}</caption>
      <thead>
        <tr>
          <th scope="col">Mode</th>
          {planes.map(({ azimuthDeg }, plane) => (
            <th key={azimuthDeg} scope="col">
              {namePlane(plane, azimuthDeg)}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {planes[0]?.fittedHz.map((hz, mode) => (
          <tr key={hz}>
            <th scope="row">{mode + 1}</th>
            {planes.map(({ azimuthDeg, fittedHz, changedHz }) => (
              <td key={azimuthDeg}>
                {formatSignificant(fittedHz[mode], FREQUENCY_DIGITS)} →{' '}
                <strong>{formatSignificant(changedHz[mode], FREQUENCY_DIGITS)}</strong>
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Field(props: {
  words: string;
  unit?: string;
  label: string;
  limits: NumberLimits;
  value: number | null;
  placeholder?: string;
  onCommit: (value: number) => void;
}) {
  return (
    <span className="thought-field">
      {props.words}
      <NumberField
        label={props.label}
        value={props.value === null ? '' : formatSignificant(props.value)}
        placeholder={props.placeholder ?? ''}
        limits={props.limits}
        onCommit={props.onCommit}
      />
      {props.unit}
    </span>
  );
}
