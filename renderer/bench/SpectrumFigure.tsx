import { useMemo } from 'react';
import { usePalette } from '../parts/index.ts';
import { type Frame, valueAt } from '../plots/index.ts';
import { useSettings, useView } from '../state/index.ts';
import type { Assessment, Spectrum, WhatIf } from '../types.ts';
import { formatSignificant, nameAzimuth, namePlane } from '../words/index.ts';
import { nameSpectrum } from './describeSpectrum.ts';
import { drawSpectrum } from './drawSpectrum.ts';
import { type Field, FrequencyFields } from './FrequencyFields.tsx';
import { levelAxisOf } from './levelAxis.ts';
import { type PickRow, type Plane, planeOfChannel } from './pickRows.ts';
import { SpectrumMarks } from './SpectrumMarks.tsx';
import { REACH_PX, snapToPeak } from './snapToPeak.ts';
import { binOf, MARGIN } from './spectrumFrames.ts';
import type { PickCommands } from './usePicks.ts';

type SpectrumFigureProps = {
  spectrum: Spectrum;
  strike: number | 'combined' | null;
  rows: readonly PickRow[];
  planes: readonly Plane[];
  otherPeaks: Assessment['otherPeaks'];
  /** The pole in thought, laid over the measured one; null where nothing is changed. */
  whatIf: WhatIf | null;
  commands: PickCommands;
};

/** The measured spectrum of each plane. A pick that waits for its place is set by a click and snaps to the peak. */
export function SpectrumFigure({
  spectrum,
  strike,
  rows,
  planes,
  otherPeaks,
  whatIf,
  commands,
}: SpectrumFigureProps) {
  const { settings } = useSettings();
  const { view, look } = useView();
  const palette = usePalette();
  const range = view.frequencyRangeHz;
  const { logarithmic } = settings;
  const levels = useMemo(() => levelAxisOf(spectrum, logarithmic), [spectrum, logarithmic]);
  const figure = useMemo(
    () => drawSpectrum(palette, spectrum, planes, range, levels, whatIf),
    [palette, spectrum, planes, range, levels, whatIf],
  );

  function placeAt(px: number, frame: Frame): void {
    if (!view.placing) return;
    const channel = channelOfPlane(spectrum, planes, view.placing.plane);
    const hzPerPx = (range[1] - range[0]) / (frame.endPx - frame.startPx);
    const at = snapToPeak(
      spectrum.frequenciesHz,
      spectrum.channels[channel]?.values ?? [],
      valueAt(frame, px),
      REACH_PX * hzPerPx,
    );
    const target = planes.find(({ plane }) => plane === view.placing!.plane)!;
    commands.place({ ...target, number: view.placing.number }, at);
    look({ placing: null });
  }

  return (
    <FrequencyFields
      label={nameSpectrum(rows, strike)}
      data={figure.data}
      layout={figure.layout}
      rows={rows}
      planes={planes}
      binHz={binOf(spectrum)}
      commands={commands}
      tell={(frequencyHz) => tellLevels(spectrum, frequencyHz)}
      inField={(plane, field) => (
        <>
          <SpectrumMarks
            spectrum={spectrum}
            levels={levels}
            rows={rows}
            otherPeaks={otherPeaks}
            planes={planes}
            plane={plane.plane}
            field={field}
          />
          {view.placing?.plane === plane.plane && (
            <PlacingField number={view.placing.number} plane={plane} field={field} onPlace={placeAt} />
          )}
        </>
      )}
    />
  );
}

function PlacingField(props: {
  number: number;
  plane: Plane;
  field: Field;
  onPlace: (px: number, frame: Frame) => void;
}) {
  const { field } = props;
  return (
    <button
      type="button"
      className="placing-field"
      aria-label={`Place mode ${props.number} of ${namePlane(props.plane.plane, props.plane.azimuthDeg)} by a click`}
      style={{
        left: MARGIN.l,
        top: field.top,
        width: field.width - MARGIN.l - MARGIN.r,
        height: field.height,
      }}
      onClick={(event) => {
        const box = event.currentTarget.getBoundingClientRect();
        props.onPlace(MARGIN.l + event.clientX - box.left, field.frame);
      }}
    />
  );
}

function channelOfPlane(spectrum: Spectrum, planes: readonly Plane[], plane: number): number {
  return spectrum.channels.findIndex((c) => planeOfChannel(planes, c.azimuthDeg)?.plane === plane);
}

/** The level of each channel at a frequency. */
function tellLevels(spectrum: Spectrum, frequencyHz: number): string {
  const bin = Math.round((frequencyHz - (spectrum.frequenciesHz[0] ?? 0)) / binOf(spectrum));
  return spectrum.channels
    .map((channel) => `${nameAzimuth(channel.azimuthDeg)}: ${formatSignificant(channel.values[bin])}`)
    .join('  ');
}
