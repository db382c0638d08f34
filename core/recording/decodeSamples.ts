import { FormatError } from '../errors.ts';
import { correlateBlock, findExtremes } from '../kernel/index.ts';
import { buildLowPassTaps, DECIMATION_PASS_SHARE } from './lowPassTaps.ts';
import { RECORDING_LIMITS } from './recording.ts';

/** How one sample is stored in a WAV data chunk. */
export type SampleForm = 'unsigned8' | 'signed16' | 'signed24' | 'signed32' | 'float32' | 'float64';

export const SAMPLE_BYTES: Readonly<Record<SampleForm, number>> = {
  unsigned8: 1,
  signed16: 2,
  signed24: 3,
  signed32: 4,
  float32: 4,
  float64: 8,
};

/** Frames decoded at a time ahead of decimation: the bytes of eight channels of 24 bits then fit a cache. */
const BLOCK_FRAMES = 16_384;

interface DecodedSamples {
  readonly channels: Float64Array[];
  /** One a channel, as long as the samples; null where nothing was lowered. */
  readonly extremes: Float32Array[] | null;
}

interface DecodeOptions {
  readonly form: SampleForm;
  readonly channelCount: number;
  readonly frames: number;
  /** Every how many frames one is kept, behind an anti-alias filter; 1 keeps all. */
  readonly factor: number;
  readonly fileName: string;
  /** Sees every sample as recorded, a stretch at a time. */
  readonly inspect: (samples: Float64Array) => void;
}

/**
 * Splits interleaved WAV samples into one array a channel, scaled so that digital full scale is 1. Integers
 * are divided by half their range (2^15 for 16 bits), so the lowest code is exactly -1; 8-bit samples are
 * unsigned with zero at 128 (Microsoft/IBM Multimedia Programming Interface 1.0, 1991).
 *
 * Written here rather than left to the package wavefile, which decodes a minute of 8 channels, 48 kHz, 24
 * bits in 3.6 s and keeps several copies of it; this loop takes 0.3 s and one copy. The tests hold the two
 * against each other. Lowering the rate block by block keeps no copy at the full rate at all.
 *
 * @param bytes - the samples alone, `frames * channelCount * SAMPLE_BYTES[form]` bytes or more
 * @returns ceil(frames / factor) samples a channel; sample i lies at frame i * factor
 * @throws FormatError `recording.not-finite` or `recording.too-large`, naming channel and sample
 */
export function decodeSamples(bytes: Uint8Array, options: DecodeOptions): DecodedSamples {
  const { channelCount, frames, factor } = options;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (factor > 1) return decodeLowered(view, options);
  const channels: Float64Array[] = [];
  for (let c = 0; c < channelCount; c++) {
    const out = new Float64Array(frames);
    decodeStretch(view, options, c, 0, out);
    channels.push(out);
  }
  return { channels, extremes: null };
}

/** Decodes and filters block by block, each with the reach of the filter on both sides. */
function decodeLowered(view: DataView, options: DecodeOptions): DecodedSamples {
  const { channelCount, frames, factor } = options;
  const taps = buildLowPassTaps(DECIMATION_PASS_SHARE / factor);
  const reach = taps.length >> 1;
  const kept = Math.ceil(frames / factor);
  const channels = Array.from({ length: channelCount }, () => new Float64Array(kept));
  const extremes = Array.from({ length: channelCount }, () => new Float32Array(kept));
  const aBlock = Math.max(1, Math.floor(BLOCK_FRAMES / factor));
  const block = new Float64Array(aBlock * factor + 2 * reach);
  for (let first = 0; first < kept; first += aBlock) {
    const count = Math.min(aBlock, kept - first);
    const origin = first * factor - reach;
    const from = Math.max(0, origin);
    const to = Math.min(frames, origin + count * factor + 2 * reach);
    for (let c = 0; c < channelCount; c++) {
      decodeStretch(view, options, c, from, block.subarray(from - origin, to - origin));
      // Ends are continued by their last value.
      block.fill(block[from - origin]!, 0, from - origin);
      block.fill(block[to - origin - 1]!, to - origin);
      correlateBlock(block, taps, factor, channels[c]!.subarray(first, first + count));
      findExtremes(block.subarray(reach, to - origin), factor, extremes[c]!.subarray(first, first + count));
    }
  }
  return { channels, extremes };
}

/** Decodes frames of one channel from frame `first` on, as many as `out` holds. */
function decodeStretch(
  view: DataView,
  { form, channelCount, fileName, inspect }: DecodeOptions,
  channel: number,
  first: number,
  out: Float64Array,
): void {
  const step = SAMPLE_BYTES[form];
  const stride = step * channelCount;
  decodeChannel(view, form, first * stride + channel * step, stride, out);
  if (form === 'float32' || form === 'float64') checkValues(out, first, `channel ${channel}`, fileName);
  inspect(out);
}

function decodeChannel(
  view: DataView,
  form: SampleForm,
  start: number,
  stride: number,
  out: Float64Array,
): void {
  let at = start;
  switch (form) {
    case 'unsigned8':
      for (let i = 0; i < out.length; i++, at += stride) out[i] = (view.getUint8(at) - 128) / 2 ** 7;
      return;
    case 'signed16':
      for (let i = 0; i < out.length; i++, at += stride) out[i] = view.getInt16(at, true) / 2 ** 15;
      return;
    case 'signed24':
      for (let i = 0; i < out.length; i++, at += stride) {
        out[i] = (view.getUint16(at, true) + view.getInt8(at + 2) * 2 ** 16) / 2 ** 23;
      }
      return;
    case 'signed32':
      for (let i = 0; i < out.length; i++, at += stride) out[i] = view.getInt32(at, true) / 2 ** 31;
      return;
    case 'float32':
      for (let i = 0; i < out.length; i++, at += stride) out[i] = view.getFloat32(at, true);
      return;
    case 'float64':
      for (let i = 0; i < out.length; i++, at += stride) out[i] = view.getFloat64(at, true);
  }
}

/**
 * Refuses a channel with a value that is no number or that no sensor gives; `place` names it in the error.
 */
function checkValues(samples: Float64Array, first: number, place: string, fileName: string): void {
  for (let i = 0; i < samples.length; i++) {
    const value = samples[i]!;
    if (Math.abs(value) <= RECORDING_LIMITS.largestValue) continue;
    const finite = Number.isFinite(value);
    throw new FormatError(
      finite ? 'recording.too-large' : 'recording.not-finite',
      `${fileName}: ${place}, sample ${first + i} is ${value}; a finite number of at most ${RECORDING_LIMITS.largestValue} is expected.`,
      'The file is damaged or is no recording of a sensor; use another copy or record again.',
    );
  }
}
