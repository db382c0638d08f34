import { Button } from '@mantine/core';
import { ErrorNote, Panel, ScrollRegion, Waiting } from '../../parts/index.ts';
import { type Answer, useWindow } from '../../state/index.ts';
import { formatChance, formatEstimate } from '../../words/index.ts';
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

/** What a recompute changed: which poles lie on the other side now, by how much, and why. */
export function DifferencesPanel(props: DifferencesProps) {
  const { answer, isAsked, only, onOnly, recomputes, recomputeId, onRecompute } = props;
  const { value, failure } = answer;
  return (
    <Panel
      title="Differences"
      remark={value && `${value.recomputed} new results under ${value.calibration}`}
      controls={
        isAsked && (
          <>
            <select
              aria-label="Poles shown"
              value={only}
              onChange={(event) => onOnly(event.currentTarget.value as 'crossed' | 'all')}
            >
              <option value="crossed">poles that change side</option>
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
          Nothing was recomputed yet. Choose a version above and recompute the workspace: then the poles that
          change side of their requirement stand here, with how far and why.
        </p>
      )}
      {failure && <ErrorNote failure={failure} />}
      {isAsked && !value && !failure && <Waiting what="Comparing the results with those before." />}
      {value && (
        <>
          <p className="crossings">{summarise(value)}</p>
          {value.rows.length === 0 ? (
            <p className="nothing">
              {only === 'crossed' ? 'No pole changes side.' : 'No result differs from the one before.'}{' '}
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
              The {value.rows.length} largest of {value.matching} are shown.
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
    <ScrollRegion className="difference-list plain-table fills" label="Poles and what changes for them">
      <table>
        <thead>
          <tr>
            <th scope="col">Pole</th>
            <th scope="col">Visit</th>
            <th scope="col">Changes side of</th>
            <th scope="col" className="is-number">
              Capacity before, kN·m
            </th>
            <th scope="col" className="is-number">
              Capacity now, kN·m
            </th>
            <th scope="col">
              <span className="visually-hidden">Before and now, in multiples of what is required</span>
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
              <td>{nameCrossings(row)}</td>
              <td className="is-number">{showCapacity(row.before)}</td>
              <td className="is-number">
                {showCapacity(row.after)}
                {row.capacityRatio !== null && <span className="quiet"> {signed(row.capacityRatio)}</span>}
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
  return capacityNm ? formatEstimate(capacityNm, '', NM_PER_KNM) : 'none';
}

function nameCrossings({ crossed, before, after }: Difference): string {
  if (crossed.length === 0) return 'neither';
  const now =
    (after.capacityNm?.value ?? 0) < (before.capacityNm?.value ?? 0)
      ? 'median now below'
      : 'median now above';
  return `${crossed.join(' and ')}, ${now}`;
}

function signed(ratio: number): string {
  const percent = Math.round(100 * (ratio - 1));
  const sign = percent > 0 ? '+' : percent < 0 ? '−' : '';
  return `${sign}${Math.abs(percent)} %`;
}

function summarise({ crossings, ratios, left }: Differences): string {
  const { requirement, threshold } = crossings;
  const parts = [
    `Median against the requirement: ${countPoles(requirement.nowBelow)} now below, ${countPoles(requirement.nowAbove)} now above.`,
    `Median against the threshold of the strength-loss rule: ${countPoles(threshold.nowBelow)} now below, ${countPoles(threshold.nowAbove)} now above.`,
  ];
  if (ratios.length > 0) {
    parts.push(
      `Capacity changes by ${signed(ratios[2]!)} in the middle, ${signed(ratios[0]!)} to ${signed(ratios[4]!)} for nine poles in ten.`,
    );
  }
  const leftOver = [
    left.unchanged > 0 && `${left.unchanged} unchanged`,
    left.withoutStrength > 0 && `${left.withoutStrength} without a strength`,
    left.assessedMeanwhile > 0 && `${left.assessedMeanwhile} assessed anew meanwhile`,
    left.failed.length > 0 && `${left.failed.length} failed (${left.failed[0]!.message})`,
  ].filter(Boolean);
  return [...parts, leftOver.length > 0 ? `No new result: ${leftOver.join(', ')}.` : ''].join(' ');
}

function countPoles(count: number): string {
  return count === 1 ? '1 pole' : `${count} poles`;
}

function capitalise(sentence: string): string {
  return sentence.charAt(0).toUpperCase() + sentence.slice(1);
}
