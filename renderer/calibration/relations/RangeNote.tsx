import { formatSignificant } from '../../words/index.ts';
import type { JudgedRelation } from '../calibrationTypes.ts';

const PA_PER_MPA = 1e6;

/** What the relation says in figures, where it was tested, and what a reader must know of it. */
export function RangeNote({ judged }: { judged: JudgedRelation }) {
  const { about, formula, terms, groups, standardErrorUnit, range, notes } = judged;
  return (
    <details className="range-note">
      <summary>
        Coefficients, groups and range
        {notes.length > 0 && `; ${notes.length === 1 ? '1 note' : `${notes.length} notes`}`}
      </summary>
      <p className="range-about">{about}</p>
      <p className="range-about">
        <strong>{formula}</strong>
      </p>
      <div className="range-columns plain-table">
        <table>
          <caption>Its figures with 90 % intervals</caption>
          <tbody>
            {terms.map(({ label, unit, value, low, high }) => (
              <tr key={label}>
                <th scope="row">{label}</th>
                <td>
                  {formatSignificant(value)} ({formatSignificant(low)} to {formatSignificant(high)}) {unit}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
        {groups.map(({ factor, treatedAs, levels }) => (
          <table key={factor}>
            <caption>
              Levels by {factor}
              {treatedAs === 'pooled' ? ', drawn together' : ''}
            </caption>
            <tbody>
              {levels.map(({ level, poles, effect }) => (
                <tr key={level}>
                  <th scope="row">{level.replaceAll('-', ' ')}</th>
                  <td>
                    {showLevel(effect, standardErrorUnit)}, {poles === 1 ? '1 pole' : `${poles} poles`}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        ))}
        <table>
          <caption>Spanned by the tests; outside of it a result says so, or nothing is told</caption>
          <tbody>
            {range.map(({ name, label, unit, min, max }) => (
              <tr key={name}>
                <th scope="row">{label}</th>
                <td>
                  {formatSignificant(min)} to {formatSignificant(max)} {unit}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
        {notes.length > 0 && (
          <ul aria-label="Notes on the relation">
            {notes.map((note) => (
              <li key={note}>{note}</li>
            ))}
          </ul>
        )}
      </div>
    </details>
  );
}

/** What a group multiplies strength by, or adds to it. */
function showLevel(effect: number, scale: JudgedRelation['standardErrorUnit']): string {
  if (scale === 'ln') return `× ${formatSignificant(Math.exp(effect))}`;
  return `${effect < 0 ? '−' : '+'} ${formatSignificant(Math.abs(effect) / PA_PER_MPA)} MPa`;
}
