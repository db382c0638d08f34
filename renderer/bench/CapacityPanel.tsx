import { useElementSize } from '@mantine/hooks';
import { memo } from 'react';
import { type DataTableContent, Panel } from '../parts/index.ts';
import { pixelOf } from '../plots/index.ts';
import type { Assessment } from '../types.ts';
import { formatChance, formatEstimate, formatKiloNewtonMetres, formatSignificant } from '../words/index.ts';
import { TracedResult } from './provenance/index.ts';
import type { Trial } from './useTrial.ts';

const NM_PER_KNM = 1e3;
const TICK_STEPS = [1, 2, 5] as const;
const WANTED_TICKS = 7;

/** Capacity at ground line with its interval against what the line requires. */
export const CapacityPanel = memo(function CapacityPanel({
  assessment,
  waiting,
  isOvertaken,
}: {
  assessment: Trial['assessment'];
  /** Whether this is the answer to earlier choices, and a newer one is on its way. */
  waiting: boolean;
  /** Whether it has been so for long enough to be misread. */
  isOvertaken: boolean;
}) {
  const table = assessment && tableOf(assessment);
  return (
    <Panel
      title="Capacity against requirement"
      remark={remarkOf(assessment, waiting)}
      isOvertaken={isOvertaken}
      {...(table && { table })}
    >
      {assessment?.withheldBecause && (
        <p className="withheld">
          <strong>Result withheld.</strong> {assessment.withheldBecause}
          {assessment.identifiability &&
            assessment.identifiability.verdict !== 'separated' &&
            ` Stem and root ${assessment.identifiability.verdict}. ${assessment.identifiability.advice}`}
        </p>
      )}
      {assessment?.strength && <IntervalPlot assessment={assessment} />}
      {assessment && <Sentence assessment={assessment} />}
    </Panel>
  );
});

function remarkOf(assessment: Assessment | null, waiting: boolean): string | null {
  if (assessment === null) return null;
  if (waiting) return 'fitting anew';
  return assessment.strength && `by ${assessment.strength.calibration}`;
}

function Sentence({ assessment: { strength, requirement } }: { assessment: Assessment }) {
  return (
    <p className="capacity-words">
      {strength && (
        <>
          Capacity{' '}
          <TracedResult name="capacity">
            <strong>{formatEstimate(strength.groundlineMomentNm, 'kN·m', NM_PER_KNM)}</strong>
          </TracedResult>
          , if the wood at ground line is sound.{' '}
        </>
      )}
      {requirement && requirement.chanceBelow === null && (
        <>
          Requirement{' '}
          <TracedResult name="requirement">
            {formatKiloNewtonMetres(requirement.groundlineMomentNm)}
          </TracedResult>
          .
        </>
      )}
      {requirement && requirement.chanceBelow !== null && (
        <>
          Required{' '}
          <TracedResult name="requirement">
            {formatKiloNewtonMetres(requirement.groundlineMomentNm)}
          </TracedResult>
          , threshold{' '}
          <TracedResult name="threshold">
            {formatKiloNewtonMetres(requirement.thresholdMomentNm)}
          </TracedResult>
          {strength && (
            <>
              , lower 5 % value{' '}
              <TracedResult name="lowerFive">{formatKiloNewtonMetres(strength.lower5PercentNm)}</TracedResult>
            </>
          )}
          . Chance that capacity is below the requirement:{' '}
          <TracedResult name="chanceBelow">
            <strong>{formatChance(requirement.chanceBelow)}</strong>
          </TracedResult>
          ; below the threshold:{' '}
          <TracedResult name="chanceBelowThreshold">
            <strong>{formatChance(requirement.chanceBelowThreshold)}</strong>
          </TracedResult>
          .
        </>
      )}
    </p>
  );
}

const PLOT_HEIGHT = 84;
const EDGE_PX = 14;
const AXIS_Y = 64;
const BAR_Y = 42;
const LABEL_Y = 12;
const SECOND_LABEL_Y = 25;
/** The requirement is named to its right and the threshold, which is never above it, to its left, where this much room is. */
const LABEL_ROOM = 120;

function IntervalPlot({ assessment }: { assessment: Assessment }) {
  const { ref, width } = useElementSize();
  const { strength, requirement } = assessment;
  if (!strength) return null;
  const moment = strength.groundlineMomentNm;
  const largest = Math.max(moment.high, requirement?.groundlineMomentNm ?? 0) * 1.08;
  const place = (nm: number) =>
    pixelOf({ startPx: EDGE_PX, endPx: Math.max(width - EDGE_PX, EDGE_PX + 1), range: [0, largest] }, nm);
  return (
    <div ref={ref} className="interval-plot">
      <svg width={width} height={PLOT_HEIGHT} role="img" aria-label={labelOf(assessment)}>
        <line className="axis" x1={place(0)} x2={place(largest)} y1={AXIS_Y} y2={AXIS_Y} />
        {ticksTo(largest / NM_PER_KNM).map((tick) => (
          <g key={tick}>
            <line
              className="axis"
              x1={place(tick * NM_PER_KNM)}
              x2={place(tick * NM_PER_KNM)}
              y1={AXIS_Y}
              y2={AXIS_Y + 4}
            />
            <text x={place(tick * NM_PER_KNM)} y={AXIS_Y + 16} textAnchor="middle">
              {tick}
            </text>
          </g>
        ))}
        <rect
          className="interval"
          x={place(moment.low)}
          width={place(moment.high) - place(moment.low)}
          y={BAR_Y - 7}
          height={14}
        />
        <line
          className="median"
          x1={place(moment.value)}
          x2={place(moment.value)}
          y1={BAR_Y - 10}
          y2={BAR_Y + 10}
        />
        <path className="lower-five" d={`M${place(strength.lower5PercentNm)} ${BAR_Y + 8}l-5 9h10z`} />
        {requirement && (
          <>
            <ReferenceLine
              x={place(requirement.groundlineMomentNm)}
              y={LABEL_Y}
              side={place(requirement.groundlineMomentNm) + LABEL_ROOM < width ? 'right' : 'left'}
              words={`requirement ${formatSignificant(requirement.groundlineMomentNm / NM_PER_KNM)}`}
            />
            <ReferenceLine
              x={place(requirement.thresholdMomentNm)}
              y={SECOND_LABEL_Y}
              side={place(requirement.thresholdMomentNm) > LABEL_ROOM ? 'left' : 'right'}
              words={`threshold ${formatSignificant(requirement.thresholdMomentNm / NM_PER_KNM)}`}
              dashed
            />
          </>
        )}
      </svg>
      <p className="quiet interval-key">
        bending moment at ground line, kN·m; bar {Math.round(moment.level * 100)} %, ▲ lower 5 %
      </p>
    </div>
  );
}

/** A line across with its words beside it. */
function ReferenceLine(props: {
  x: number;
  y: number;
  side: 'left' | 'right';
  words: string;
  dashed?: boolean;
}) {
  const toLeft = props.side === 'left';
  return (
    <>
      <line
        className={props.dashed ? 'reference is-dashed' : 'reference'}
        x1={props.x}
        x2={props.x}
        y1={props.y - 9}
        y2={AXIS_Y}
      />
      <text x={props.x + (toLeft ? -5 : 5)} y={props.y} textAnchor={toLeft ? 'end' : 'start'}>
        {props.words}
      </text>
    </>
  );
}

/** Round numbers from 0 up to `largest`. */
function ticksTo(largest: number): number[] {
  const power = 10 ** Math.floor(Math.log10(largest / WANTED_TICKS));
  const step = power * ([...TICK_STEPS, 10].find((s) => largest / (s * power) <= WANTED_TICKS) ?? 10);
  return Array.from({ length: Math.floor(largest / step) + 1 }, (_, i) => Number((i * step).toPrecision(6)));
}

function labelOf({ strength, requirement }: Assessment): string {
  const capacity = strength ? formatEstimate(strength.groundlineMomentNm, 'kN·m', NM_PER_KNM) : 'none';
  const required = requirement ? formatKiloNewtonMetres(requirement.groundlineMomentNm) : 'none';
  return `Capacity ${capacity} against requirement ${required}; chance below ${formatChance(requirement?.chanceBelow ?? null)}`;
}

function tableOf({ strength, requirement }: Assessment): DataTableContent {
  const rows: string[][] = [];
  if (strength) {
    const { low, value, high } = strength.groundlineMomentNm;
    rows.push(
      ['capacity, median', formatKiloNewtonMetres(value), ''],
      ['capacity, interval', `${formatKiloNewtonMetres(low)} to ${formatKiloNewtonMetres(high)}`, ''],
      ['lower 5 % exclusion value', formatKiloNewtonMetres(strength.lower5PercentNm), ''],
    );
  }
  if (requirement) {
    rows.push(
      [
        'requirement',
        formatKiloNewtonMetres(requirement.groundlineMomentNm),
        formatChance(requirement.chanceBelow),
      ],
      [
        'threshold',
        formatKiloNewtonMetres(requirement.thresholdMomentNm),
        formatChance(requirement.chanceBelowThreshold),
      ],
    );
  }
  return {
    caption: 'Capacity and requirement at ground line',
    columns: ['Quantity', 'Moment', 'Chance that capacity is below'],
    rows,
  };
}
