import { ErrorNote, NumberField } from '../parts/index.ts';
import type { Thought } from '../state/index.ts';
import type { WhatIf } from '../types.ts';
import { formatSignificant, namePlane } from '../words/index.ts';
import { THOUGHT_FIELDS } from './thoughtFields.ts';
import type { Thinking } from './useThought.ts';

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
        {THOUGHT_FIELDS.map(({ words, unit, label, limits, placeholder, read, write }) => {
          const value = read(thought, place);
          return (
            <span key={label} className="thought-field">
              {words}
              <NumberField
                label={label}
                value={value === null ? '' : formatSignificant(value)}
                placeholder={placeholder}
                limits={limits}
                onCommit={(typed) => onChange(write(typed, place))}
              />
              {unit}
            </span>
          );
        })}
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
