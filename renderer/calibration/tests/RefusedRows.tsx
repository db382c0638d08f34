import type { Tests } from '../calibrationTypes.ts';

/** Rows of a table that were not taken, each with where, why and what to do. */
export function RefusedRows({ refused }: { refused: Tests['sets'][number]['refused'] }) {
  return (
    <details className="refused-rows">
      <summary>Rows not taken</summary>
      <ul>
        {refused.map(({ line, column, value, reason, hint }) => (
          <li key={`${line} ${column} ${value}`}>
            Line {line}
            {column && `, column “${column}”`}: “{value}” {reason}. <span className="quiet">{hint}</span>
          </li>
        ))}
      </ul>
    </details>
  );
}
