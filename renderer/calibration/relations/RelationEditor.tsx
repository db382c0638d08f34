import { useEffect, useState } from 'react';
import { Panel } from '../../parts/index.ts';
import type { Candidate, PredictorInfo, RelationSpec } from '../calibrationTypes.ts';
import { useCalibration } from '../useCalibration.ts';

type Choice = { value: string; words: string };
type Field = { [K in keyof RelationSpec]: RelationSpec[K] extends string ? K : never }[keyof RelationSpec];

const FIELDS: readonly { field: Field; label: string; explain: string; choices: readonly Choice[] }[] = [
  {
    field: 'response',
    label: 'Predicts',
    explain:
      'Stress at ground line, whatever broke first, times the section modulus there is the capacity. Stress where it broke is of the wood alone, and overstates poles that break above ground.',
    choices: [
      { value: 'groundlineStress', words: 'ground line stress' },
      { value: 'modulusOfRupture', words: 'stress at the break' },
    ],
  },
  {
    field: 'form',
    label: 'Form',
    explain:
      'Proportions: the logarithm of strength from logarithms. Sums: strength from the predictors as they are.',
    choices: [
      { value: 'log-linear', words: 'proportions (log)' },
      { value: 'linear', words: 'sums (linear)' },
    ],
  },
  {
    field: 'species',
    label: 'Species',
    explain:
      'Drawn together: each species has a level of its own, pulled to the mean the more the fewer tests it has.',
    choices: [
      { value: 'none', words: 'taken together' },
      { value: 'pooled', words: 'levels, drawn together' },
      { value: 'fixed', words: 'own levels' },
    ],
  },
  {
    field: 'treatment',
    label: 'Treatment',
    explain: 'As for species.',
    choices: [
      { value: 'none', words: 'taken together' },
      { value: 'pooled', words: 'levels, drawn together' },
      { value: 'fixed', words: 'own levels' },
    ],
  },
  {
    field: 'estimator',
    label: 'Fit',
    explain:
      'Robust: tests far off the rest count less, and are named. Weighted: by the weights in the file.',
    choices: [
      { value: 'ordinary', words: 'least squares' },
      { value: 'weighted', words: 'weighted squares' },
      { value: 'robust', words: 'robust' },
    ],
  },
  {
    field: 'modulusError',
    label: 'Error of E',
    explain:
      'The modulus is measured with an error. Taken in: the slope is mended for it, and the error of each pole enters its interval.',
    choices: [
      { value: 'ignored', words: 'ignored' },
      { value: 'acknowledged', words: 'taken in' },
    ],
  },
];

/** The choices of the relation that is shown; every change is judged anew. */
export function RelationEditor({ predictors }: { predictors: readonly PredictorInfo[] }) {
  const { candidates, shown, renameCandidate, changeSpec } = useCalibration();
  const candidate = candidates.find(({ name }) => name === shown);
  if (!candidate) return null;
  const { spec } = candidate;
  const change = (part: Partial<RelationSpec>) => changeSpec(shown, { ...spec, ...part });
  const toggle = (name: PredictorInfo['name']) =>
    change({
      predictors: predictors
        .map((predictor) => predictor.name)
        .filter((own) => (own === name) !== spec.predictors.includes(own)),
    });
  return (
    <Panel title="Relation">
      <form className="choices-form" onSubmit={(event) => event.preventDefault()}>
        <NameField
          key={shown}
          candidate={candidate}
          taken={candidates.map(({ name }) => name)}
          onChange={(name) => renameCandidate(shown, name)}
        />
        <fieldset>
          <legend>From</legend>
          {predictors.map(({ name, label }) => (
            <label key={name} className="check-line">
              <input type="checkbox" checked={spec.predictors.includes(name)} onChange={() => toggle(name)} />{' '}
              {label}
            </label>
          ))}
        </fieldset>
        {FIELDS.map(({ field, label, explain, choices }) => (
          <label key={field} className="select-line" title={explain}>
            <span>{label}</span>
            <select
              value={spec[field]}
              onChange={(event) => change({ [field]: event.currentTarget.value } as Partial<RelationSpec>)}
            >
              {choices.map(({ value, words }) => (
                <option key={value} value={value}>
                  {words}
                </option>
              ))}
            </select>
          </label>
        ))}
      </form>
    </Panel>
  );
}

/** The name, taken over when the field is left, unless it is empty or another's. */
function NameField(props: {
  candidate: Candidate;
  taken: readonly string[];
  onChange: (name: string) => void;
}) {
  const { candidate, taken, onChange } = props;
  const [text, setText] = useState(candidate.name);
  useEffect(() => setText(candidate.name), [candidate.name]);
  const wanted = text.trim();
  const isTaken = wanted !== candidate.name && taken.includes(wanted);
  const finish = () => (wanted === '' || isTaken ? setText(candidate.name) : onChange(wanted));
  return (
    <label className="select-line">
      <span>Name</span>
      <input
        className="text-field"
        value={text}
        maxLength={60}
        aria-invalid={isTaken}
        onChange={(event) => setText(event.currentTarget.value)}
        onBlur={finish}
        onKeyDown={(event) => event.key === 'Enter' && finish()}
      />
    </label>
  );
}
