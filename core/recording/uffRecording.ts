import { FormatError } from '../errors.ts';
import { checkShape } from './checkShape.ts';
import { readUff } from './readUff.ts';
import type { Recording, RecordingWarning } from './recording.ts';
import { UFF_AXIS, UFF_FUNCTION, type UffDataset } from './uffDataset.ts';
import { findAccelerationUnit } from './units.ts';

/** Half of the last digit of an E13.5 field, as a share of its mantissa's unit. */
const PRINTED_HALF_DIGIT = 0.5e-5;

/**
 * Reads a universal file as a recording: every dataset 58 that is a time record of acceleration is a channel,
 * in the order of the file; what else it holds is passed over and told. A unit that is written out counts;
 * where none is, data said to be accelerations are taken as m/s2, with a warning. A recording of something
 * else (sound pressure, force, a frequency response) is refused.
 * @throws FormatError `uff.*` or `recording.*`
 */
export function readUffRecording(bytes: Uint8Array, fileName: string): Recording {
  const { datasets, skipped } = readUff(bytes, fileName);
  const warnings: RecordingWarning[] = [];
  if (skipped.length > 0) {
    warnings.push({
      code: 'uff.skipped',
      message: `Datasets ${[...new Set(skipped)].join(', ')} of the universal file are passed over.`,
    });
  }
  const factors = datasets.map((dataset) => (isTimeRecord(dataset) ? findFactor(dataset) : null));
  const used = datasets.filter((_, i) => factors[i] !== null);
  const others = datasets.filter((_, i) => factors[i] === null);
  if (used.length === 0) {
    throw new FormatError(
      'uff.unit',
      `${fileName}: dataset 1 holds "${describe(datasets[0]!)}", which is no time record of acceleration.`,
      'Export the channels of the accelerometers as time records, in m/s2 or g.',
    );
  }
  if (others.length > 0) {
    warnings.push({
      code: 'uff.other-channels',
      message: `${others.length} of ${datasets.length} datasets are no time records of acceleration and are passed over (${others.map(describe).join('; ')}); channels count from 0 without them.`,
    });
  }
  if (
    used.some((dataset) => dataset.ordinate.unit.trim() === '' || dataset.ordinate.unit.trim() === 'NONE')
  ) {
    warnings.push({
      code: 'uff.unit-taken',
      message: 'The file says that it holds accelerations and names no unit; they are taken as m/s2.',
    });
  }
  const first = used[0]!;
  const odd = used.findIndex(
    ({ values, abscissaStep, abscissaStart }) =>
      values.length !== first.values.length ||
      abscissaStep !== first.abscissaStep ||
      abscissaStart !== first.abscissaStart,
  );
  if (odd >= 0) {
    const { values, abscissaStep, abscissaStart } = used[odd]!;
    throw new FormatError(
      'uff.unlike',
      `${fileName}: channel ${odd} has ${values.length} values from ${abscissaStart} s in steps of ${abscissaStep} s, channel 0 has ${first.values.length} from ${first.abscissaStart} s in steps of ${first.abscissaStep} s; channels of one recording are alike.`,
      'Export channels that were recorded together, or each recording to a file of its own.',
    );
  }
  const sampleRateHz = readRate(first.abscissaStep);
  checkShape(fileName, used.length, sampleRateHz, first.values.length);
  return {
    sampleRateHz,
    channels: datasets.flatMap((dataset, i) => {
      const factor = factors[i];
      return factor == null ? [] : [factor === 1 ? dataset.values : dataset.values.map((v) => v * factor)];
    }),
    unit: 'm/s2',
    frames: first.values.length,
    coding: 'float',
    warnings,
  };
}

function isTimeRecord({ functionKind, abscissa, ordinateForm }: UffDataset): boolean {
  return (
    ordinateForm.startsWith('real') &&
    (functionKind === UFF_FUNCTION.timeResponse || functionKind === UFF_FUNCTION.general) &&
    (abscissa.kind === UFF_AXIS.time || abscissa.kind === UFF_AXIS.unknown)
  );
}

/** Factor to m/s2, or null where the ordinate is no acceleration. */
function findFactor({ ordinate }: UffDataset): number | null {
  const unit = ordinate.unit.trim();
  const isUnnamed = unit === '' || unit === 'NONE';
  if (isUnnamed) return ordinate.kind === UFF_AXIS.acceleration ? 1 : null;
  const isOpen = ordinate.kind === UFF_AXIS.unknown || ordinate.kind === UFF_AXIS.general;
  if (!isOpen && ordinate.kind !== UFF_AXIS.acceleration) return null;
  // Labels in UTF-8 read as Latin-1 carry a stray letter before the superscript.
  return findAccelerationUnit(unit.replace('\u00c2\u00b2', '\u00b2'));
}

/**
 * The rate of a step that was printed with six digits: the whole number of hertz within its rounding, where
 * there is just one.
 */
function readRate(stepS: number): number {
  const rateHz = 1 / stepS;
  const roundingS = PRINTED_HALF_DIGIT * 10 ** Math.floor(Math.log10(stepS));
  const whole = Math.round(rateHz);
  const widthHz = rateHz * (roundingS / stepS);
  return Math.abs(whole - rateHz) <= widthHz && widthHz < 0.5 ? whole : rateHz;
}

function describe({ functionKind, ordinate }: UffDataset): string {
  const text = `function kind ${functionKind}, ${ordinate.label} in ${ordinate.unit.trim() || 'no unit'}`;
  return text.replace(/[^ -~\u00b2]/g, '?');
}
