import { Button } from '@mantine/core';
import { nameChange, tellDifferences } from '../../../core/workspace/contract.ts';
import { ErrorNote, Panel, ScrollRegion, Waiting } from '../../parts/index.ts';
import { type Answer, useWindow } from '../../state/index.ts';
import { formatChance, formatCompared, formatDifference } from '../../words/index.ts';
import type { Difference, Differences, Overview } from '../calibrationTypes.ts';
import { ShiftScale, ShiftStrip } from './ShiftStrip.tsx';

const NM_PER_KNM = 1e3;
const REASONS_SHOWN = 2;

type DifferencesProps = {
  answer: Answer<Differences>;
  /** False where nothing was recomputed yet. */
  isAsked: boolean;
  only: 'crossed' | 'all';
  onOnly: (only: 'crossed' | 'all') => void;
  recomputes: Overview['recomputes'];
  recomputeId: number | null;
  onRecompute: (recomputeId: number) => void;
};

/** What a recompute changed: which visits lie on the other side now, by how much, and why. */
export function DifferencesPanel(props: DifferencesProps) {
  const { answer, isAsked, only, onOnly, recomputes, recomputeId, onRecompute } = props;
  const { value, failure } = answer;
  return (
    <Panel
      title="Differences"
      remark={value && `under ${value.calibration}`}
      controls={
        isAsked && (
          <>
            <select
              aria-label="Visits shown"
              value={only}
              onChange={(event) => onOnly(event.currentTarget.value as 'crossed' | 'all')}
            >
              <option value="crossed">visits that change side, or lose or gain a strength</option>
              <option value="all">all that change</option>
            </select>
            <select
              aria-label="Recompute shown"
              value={recomputeId ?? ''}
              onChange={(event) => onRecompute(Number(event.currentTarget.value))}
            >
              {recomputes.map((recompute) => (
                <option key={recompute.recomputeId} value={recompute.recomputeId}>
                  {recompute.calibration}, {recompute.completedAt.slice(0, 16).replace('T', ' ')}
                </option>
              ))}
            </select>
          </>
        )
      }
    >
      {!isAsked && (
        <p className="nothing">
          Nothing was recomputed yet. Choose a version above and recompute the workspace: then the visits to
          poles that change side of their requirement or whose capacity is not told any more stand here, with
          how far and why.
        </p>
      )}
      {failure && <ErrorNote failure={failure} />}
      {isAsked && !value && !failure && <Waiting what="Comparing the results with those before." />}
      {value && (
        <>
          <p className="crossings">
            {[...tellDifferences(value), ...value.left.failed.slice(0, 1).map(({ message }) => message)].join(
              ' ',
            )}
          </p>
          {value.rows.length === 0 ? (
            <p className="nothing">
              {only === 'crossed'
                ? 'No visit changes side, and none loses or gains a strength.'
                : 'No result differs from the one before.'}{' '}
              {only === 'crossed' && value.recomputed > 0 && (
                <Button size="compact-xs" variant="default" onClick={() => onOnly('all')}>
                  Show all that change
                </Button>
              )}
            </p>
          ) : (
            <DifferenceTable rows={value.rows} />
          )}
          {value.matching > value.rows.length && (
            <p className="quiet">
              The {value.rows.length} largest of {value.matching} visits are shown.
            </p>
          )}
        </>
      )}
    </Panel>
  );
}

function DifferenceTable({ rows }: { rows: readonly Difference[] }) {
  const openVisit = useWindow((s) => s.openVisit);
  return (
    <ScrollRegion className="difference-list plain-table fills" label="Visits and what changes for them">
      <table>
        <thead>
          <tr>
            <th scope="col">Pole</th>
            <th scope="col">Visit</th>
            <th scope="col">What changes</th>
            <th scope="col" className="is-number">
              Capacity before, kN·m
            </th>
            <th scope="col" className="is-number">
              Capacity now, kN·m
            </th>
            <th scope="col">
              <span title="Before (hollow) and now (filled), in multiples of what is required">
                Times what is required
              </span>
              <ShiftScale />
            </th>
            <th scope="col" className="is-number">
              Chance below
            </th>
            <th scope="col">Why</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.visitId}>
              <th scope="row">
                <button type="button" className="row-opener" onClick={() => openVisit(row.visitId)}>
                  <strong>{row.poleId}</strong>
                </button>
              </th>
              <td>{row.date}</td>
              <td className="change">{nameChange(row)}</td>
              <td className="is-number">{showCapacity(row.before)}</td>
              <td className="is-number">
                {showCapacity(row.after)}
                {row.capacityRatio !== null && (
                  <span className="quiet"> {formatDifference(row.capacityRatio - 1)}</span>
                )}
              </td>
              <td>
                <ShiftStrip row={row} />
              </td>
              <td className="is-number">
                {formatChance(row.before.chanceBelow)} → {formatChance(row.after.chanceBelow)}
              </td>
              <td className="why">
                <Reasons reasons={row.reasons} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

/** The reasons that weigh most, and the rest behind a fold. */
function Reasons({ reasons }: { reasons: readonly string[] }) {
  const first = reasons.slice(0, REASONS_SHOWN).map(capitalise).join(' ');
  const rest = reasons.slice(REASONS_SHOWN);
  if (rest.length === 0) return first;
  return (
    <>
      {first}
      <details>
        <summary>{rest.length} more</summary>
        {rest.map(capitalise).join(' ')}
      </details>
    </>
  );
}

function showCapacity({ capacityNm }: Difference['before']): string {
  return capacityNm ? formatCompared(capacityNm, NM_PER_KNM) : 'none';
}

/** The name of a calibration at its head stays as it is. */
function capitalise(sentence: string): string {
  if (/^\S+@\d/.test(sentence)) return sentence;
  return sentence.charAt(0).toUpperCase() + sentence.slice(1);
}
