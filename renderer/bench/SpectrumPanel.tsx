import { type ReactNode, useState } from 'react';
import { ErrorNote, Panel, RangeFields, Waiting } from '../parts/index.ts';
import { type Range, type Settings, type SpectrumKind, useAnswer, useBench } from '../state/index.ts';
import type { Assessment, Decision, WhatIf } from '../types.ts';
import { namePlane } from '../words/index.ts';
import { tabulateOrders } from './describeOrders.ts';
import { tabulateSpectrum } from './describeSpectrum.ts';
import { OrdersFigure } from './OrdersFigure.tsx';
import type { PickRow, Plane } from './pickRows.ts';
import { SpectrumFigure } from './SpectrumFigure.tsx';
import { MAXIMUM_HZ, WHOLE } from './spectrumFrames.ts';
import type { PickCommands } from './usePicks.ts';

/** Over ranges below this, lines of their own lie closer than those of the whole spectrum. */
const ZOOM_BELOW_HZ = 20;

const KINDS: readonly { kind: SpectrumKind; words: string }[] = [
  { kind: 'amplitude', words: 'amplitude' },
  { kind: 'psd', words: 'PSD' },
  { kind: 'multitaper', words: 'PSD, tapers' },
  { kind: 'orders', words: 'model orders' },
];

type SpectrumPanelProps = {
  visitId: number;
  /** Among the strikes of the recording in view. */
  strike: number | 'combined' | null;
  /** Of time, for the spectrum; none: all of the recording. */
  stretches: readonly { startS: number; endS: number }[];
  /** Whether it is known where the strikes are. */
  isJudged: boolean;
  /** From the axes of the sensor to those along which is looked. */
  turnDeg: number;
  rows: readonly PickRow[];
  planes: readonly Plane[];
  otherPeaks: Assessment['otherPeaks'];
  whatIf: WhatIf | null;
  commands: PickCommands;
};

/** What rings at which frequency: the spectrum of what is chosen, or the poles of models of rising order. */
export function SpectrumPanel(props: SpectrumPanelProps) {
  const { visitId, strike, stretches, isJudged, turnDeg, rows, planes, otherPeaks, whatIf, commands } = props;
  const { settings, view, set, look, choices } = useBench();
  const { spectrumKind: kind } = settings;
  const { frequencyRangeHz: range } = view;
  const orders = kind === 'orders';
  const spectrum = useAnswer(
    'recording.spectrum',
    kind === 'orders' || !isJudged
      ? null
      : {
          visitId,
          recording: settings.recording,
          stretches: [...stretches],
          turnDeg,
          kind,
          maximumHz: MAXIMUM_HZ,
          ...zoomOf(kind, range),
        },
  );
  const stabilisation = useStabilisation(visitId, choices.decisions, orders);
  const { value, failure } = orders ? stabilisation : spectrum;
  const placingRow =
    view.placing && rows.find((r) => r.plane === view.placing?.plane && r.number === view.placing.number);

  return (
    <Panel
      title={orders ? 'Model orders' : 'Spectrum'}
      remark={
        placingRow
          ? `click mode ${placingRow.number} in ${namePlane(placingRow.plane, placingRow.azimuthDeg)}`
          : remarkOf(orders, whatIf !== null)
      }
      table={orders ? tabulateOrders(stabilisation.value, planes, rows) : tabulateSpectrum(rows, otherPeaks)}
      controls={
        <>
          <RangeFields
            name="Frequency"
            unit="Hz"
            range={range}
            whole={WHOLE}
            decimals={1}
            onChange={(next) => look({ frequencyRangeHz: next ?? WHOLE })}
          />
          <label>
            <span className="visually-hidden">Kind of spectrum</span>
            <select
              value={kind}
              onChange={(event) =>
                set({ spectrumKind: event.currentTarget.value as SpectrumKind }, 'kind of spectrum')
              }
            >
              {KINDS.map(({ kind, words }) => (
                <option key={kind} value={kind}>
                  {words}
                </option>
              ))}
            </select>
          </label>
          {!orders && (
            <label>
              <span className="visually-hidden">Directions</span>
              <select
                value={settings.axes}
                title="The axes of the sensor, or the pole’s own planes, turned from them"
                onChange={(event) =>
                  set({ axes: event.currentTarget.value as Settings['axes'] }, 'directions of the spectrum')
                }
              >
                <option value="sensor">axes</option>
                <option value="planes">planes</option>
              </select>
            </label>
          )}
          {!orders && (
            <label>
              <span className="visually-hidden">Vertical axis</span>
              <select
                value={settings.logarithmic ? 'log' : 'linear'}
                onChange={(event) =>
                  set({ logarithmic: event.currentTarget.value === 'log' }, 'axis of the spectrum')
                }
              >
                <option value="log">log</option>
                <option value="linear">linear</option>
              </select>
            </label>
          )}
        </>
      }
    >
      {failure && <ErrorNote failure={failure} />}
      {!value && !failure && (
        <Waiting
          what={orders ? 'Following poles from model order to model order.' : 'Computing the spectrum.'}
        />
      )}
      {!orders && spectrum.value && (
        <SpectrumFigure
          spectrum={spectrum.value}
          strike={strike}
          rows={rows}
          planes={planes}
          otherPeaks={otherPeaks}
          whatIf={whatIf}
          commands={commands}
        />
      )}
      {orders && stabilisation.value && (
        <OrdersFigure stabilisation={stabilisation.value} rows={rows} planes={planes} commands={commands} />
      )}
    </Panel>
  );
}

/** Asked once it is wanted, and kept: it takes seconds, and only decisions on strikes change it. */
function useStabilisation(visitId: number, decisions: readonly Decision[], wanted: boolean) {
  const [asked, setAsked] = useState(wanted);
  if (wanted && !asked) setAsked(true);
  const strikes = decisions.filter((decision) => 'kind' in decision && decision.kind === 'strike');
  return useAnswer('visit.stabilisation', asked ? { visitId, decisions: strikes } : null);
}

function zoomOf(kind: SpectrumKind, [fromHz, toHz]: Range) {
  return kind === 'amplitude' && toHz - fromHz < ZOOM_BELOW_HZ ? { zoom: { fromHz, toHz } } : {};
}

function remarkOf(orders: boolean, inThought: boolean): ReactNode {
  if (orders) return 'line: level of the strikes, 60 dB';
  return inThought ? '▼ and dashes: in thought' : '△ predicted, × no pick';
}
