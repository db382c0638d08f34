import { VerdictMark } from '../parts/index.ts';
import type { Assessment, Check, Reading, RecordingInfo, Strike } from '../types.ts';
import { formatFigure, formatSignificant } from '../words/index.ts';
import { StrikeOverrule } from './StrikeOverrule.tsx';

/** Each strike's verdict, and in words what its checks say and what to do next time. */
export function StrikeNotes({
  assessment,
  recordings,
  readings,
}: {
  assessment: Assessment;
  recordings: readonly RecordingInfo[];
  readings: readonly Reading[];
}) {
  const remarked = recordings
    .map(({ index, file }) => ({ index, file, warnings: readings[index]?.warnings ?? [] }))
    .filter(({ warnings }) => warnings.length > 0);
  const { strikes, recordingChecks } = assessment;
  return (
    <>
      {strikes.length === 0 && <p>No strike was found in these recordings.</p>}
      {strikes.map((strike) => (
        <section key={`${strike.recording}-${strike.startS}`} className="strike-note">
          <h3>
            {strike.recording} at {strike.startS.toFixed(2)} s, {strike.exciter}:{' '}
            <VerdictMark verdict={strike.verdict} />
          </h3>
          <p>{describeBlow(strike)}</p>
          <StrikeOverrule strike={strike} index={placeOf(strikes, strike)} />
          <CheckList checks={strike.checks} />
        </section>
      ))}
      {remarked.map((recording) => (
        <section key={recording.index} className="strike-note">
          <h3>Remarks on {recording.file}</h3>
          <ul className="plain-list">
            {recording.warnings.map((warning) => (
              <li key={warning}>{warning}</li>
            ))}
          </ul>
        </section>
      ))}
      {recordingChecks.length > 0 && (
        <section className="strike-note">
          <h3>Between strikes</h3>
          <CheckList checks={recordingChecks} />
        </section>
      )}
    </>
  );
}

/** Place of a strike among those of its recording. */
function placeOf(strikes: readonly Strike[], strike: Strike): number {
  return strikes.filter(({ recording }) => recording === strike.recording).indexOf(strike);
}

const MS_PER_S = 1e3;
const FIGURE_DIGITS = 2;

/** How long the blow lasted, and how far up it lit the pole. */
function describeBlow({ contactS, litToHz }: Strike): string {
  const parts = [
    ...(contactS == null ? [] : [`Contact ${formatSignificant(contactS * MS_PER_S, FIGURE_DIGITS)} ms.`]),
    ...(litToHz == null ? [] : [`Lights modes up to ${formatSignificant(litToHz, FIGURE_DIGITS)} Hz.`]),
  ];
  return parts.join(' ');
}

function CheckList({ checks }: { checks: readonly Check[] }) {
  const odd = checks.filter((check) => check.verdict !== 'use');
  const good = checks.filter((check) => check.verdict === 'use');
  return (
    <ul className="plain-list">
      {odd.map((check) => (
        <li key={check.id}>
          <VerdictMark verdict={check.verdict} /> <strong>{check.id.replaceAll('-', ' ')}</strong>:{' '}
          {check.text} {check.advice} <span className="quiet">{figures(check)}</span>
        </li>
      ))}
      {good.length > 0 && (
        <li className="quiet">
          {odd.length === 0 ? 'All in order: ' : 'In order: '}
          {good.map((check) => `${check.id.replaceAll('-', ' ')}${figureOf(check)}`).join(', ')}.
        </li>
      )}
    </ul>
  );
}

function figureOf({ value, unit }: Check): string {
  return value === null ? '' : ` (${formatFigure(value)}${unit ? ` ${unit}` : ''})`;
}

function figures({ value, limit, unit }: Check): string {
  if (value === null) return '';
  const against = limit === null ? '' : `, limit ${formatFigure(limit)}`;
  return `Measured ${formatFigure(value)}${against} ${unit}.`;
}
