import { pixelOf } from '../plots/index.ts';
import type { Assessment, Spectrum } from '../types.ts';
import type { Field } from './FrequencyFields.tsx';
import { type LevelAxis, shareOfLevel } from './levelAxis.ts';
import { type PickRow, type Plane, planeOfChannel } from './pickRows.ts';
import { binOf } from './spectrumFrames.ts';

/** Predicted frequencies stand this far above the foot of the field. */
const PREDICTED_ABOVE_PX = 7;
const TRIANGLE = 'M-4.5 4L0 -4.5L4.5 4Z';
const CROSS = 'M-3.5 -3.5L3.5 3.5M-3.5 3.5L3.5 -3.5';

type SpectrumMarksProps = {
  spectrum: Spectrum;
  levels: LevelAxis;
  rows: readonly PickRow[];
  otherPeaks: Assessment['otherPeaks'];
  planes: readonly Plane[];
  plane: number;
  field: Field;
};

/** Over the spectrum of one plane: where the model predicts its modes, and peaks that are no picks. They move with every pick, the curve does not. */
export function SpectrumMarks(props: SpectrumMarksProps) {
  const { spectrum, levels, rows, otherPeaks, planes, plane, field } = props;
  const { frame, height } = field;
  const isInView = (hz: number) => hz >= frame.range[0] && hz <= frame.range[1];
  const start = spectrum.frequenciesHz[0] ?? 0;
  const others = otherPeaks.filter((peak) => peak.plane === plane && isInView(peak.frequencyHz));
  const crosses = spectrum.channels
    .filter(({ azimuthDeg }) => planeOfChannel(planes, azimuthDeg)?.plane === plane)
    .flatMap(({ values }) =>
      others.map(({ frequencyHz }) => ({
        x: pixelOf(frame, frequencyHz),
        level: values[Math.round((frequencyHz - start) / binOf(spectrum))] ?? levels.floor,
      })),
    );
  const predicted = rows.flatMap((row) =>
    row.plane === plane && row.predictedHz !== null && isInView(row.predictedHz) ? [row.predictedHz] : [],
  );
  return (
    <svg
      className="spectrum-marks"
      style={{ top: field.top }}
      width={field.width}
      height={height}
      aria-hidden
    >
      {crosses.map(({ x, level }) => (
        <path
          key={`${x} ${level}`}
          d={CROSS}
          transform={`translate(${x} ${height * (1 - shareOfLevel(levels, level))})`}
        />
      ))}
      {predicted.map((hz) => (
        <path
          key={hz}
          d={TRIANGLE}
          transform={`translate(${pixelOf(frame, hz)} ${height - PREDICTED_ABOVE_PX})`}
        />
      ))}
    </svg>
  );
}
