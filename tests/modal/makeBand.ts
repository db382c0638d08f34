import { type Band, prepareBand } from '../../core/modal/prepareBand.ts';
import { chooseRecordLength, computeResponseLines } from '../../core/modal/responseLines.ts';

/** Lines of some channels between two frequencies, ready to be fitted. */
export function makeBand(
  channels: readonly Float64Array[],
  sampleRateHz: number,
  lowHz: number,
  highHz: number,
): Band {
  const spacing = sampleRateHz / chooseRecordLength(channels[0]!.length);
  const from = Math.max(0, Math.round(lowHz / spacing) - 1);
  const transformed = channels.map((samples) => computeResponseLines(samples, sampleRateHz, highHz));
  return prepareBand({
    frequenciesHz: Float64Array.from(
      { length: transformed[0]!.re.length - from },
      (_, k) => (from + k + 1) * spacing,
    ),
    channels: transformed.map(({ re, im }) => ({ re: re.subarray(from), im: im.subarray(from) })),
    sampleRateHz,
    noisePower: channels.map(() => 0),
  });
}
