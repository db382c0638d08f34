import { FormatError } from '../errors.ts';
import { checkShape } from './checkShape.ts';
import { decodeSamples, SAMPLE_BYTES, type SampleForm } from './decodeSamples.ts';
import { LOWERED_RATE, type Recording, type RecordingWarning } from './recording.ts';
import { scanWavChunks } from './scanWavChunks.ts';

const TAG_PCM = 1;
const TAG_FLOAT = 3;
const TAG_EXTENSIBLE = 0xfffe;
/** Bytes of `fmt ` up to the end of the sub-format identifier; recorders may append more of their own. */
const EXTENSIBLE_BYTES = 40;
const TAG_NAMES: Readonly<Record<number, string>> = {
  2: 'ADPCM',
  6: 'A-law',
  7: 'mu-law',
  17: 'IMA ADPCM',
  85: 'MP3',
};

interface WavForm {
  readonly channelCount: number;
  readonly sampleRateHz: number;
  readonly sample: SampleForm;
  /**
   * Bits in use, counted from the top of the container; equal to the container where nothing else is stated.
   */
  readonly validBits: number;
}

/**
 * Reads a WAV file: PCM of 8 (unsigned), 16, 24 and 32 bits, float of 32 and 64 bits, plain or EXTENSIBLE,
 * in RIFF, RF64 or BW64. Samples are fractions of digital full scale; recordings of 16 kHz and more are lowered
 * to 4 kHz or a little more behind an anti-alias filter. What was mended is told in `warnings`.
 * @param fileName - named in errors
 * @throws FormatError `wav.*` or `recording.*`, naming the field, its value and what was expected
 */
export function readWav(bytes: Uint8Array, fileName: string): Recording {
  const chunks = scanWavChunks(bytes, fileName);
  const warnings: RecordingWarning[] = [...chunks.warnings];
  const form = readForm(bytes.subarray(chunks.fmtStart, chunks.fmtStart + chunks.fmtBytes), fileName);
  const frameBytes = form.channelCount * SAMPLE_BYTES[form.sample];
  const frames = Math.floor(chunks.dataBytes / frameBytes);
  checkShape(fileName, form.channelCount, form.sampleRateHz, frames);
  if (chunks.dataBytes % frameBytes !== 0) {
    warnings.push({
      code: 'wav.part-frame',
      message: `The last ${chunks.dataBytes % frameBytes} bytes are part of a frame of ${frameBytes} bytes and are left out.`,
    });
  }
  const data = bytes.subarray(chunks.dataStart, chunks.dataStart + chunks.dataBytes);
  const unusedBits = SAMPLE_BYTES[form.sample] * 8 - form.validBits;
  const alignment = createAlignmentProbe(form.validBits, unusedBits);
  const factor =
    form.sampleRateHz < LOWERED_RATE.fromHz ? 1 : Math.floor(form.sampleRateHz / LOWERED_RATE.keptHz);
  const decoded = decodeSamples(data, {
    form: form.sample,
    channelCount: form.channelCount,
    frames,
    factor,
    fileName,
    inspect: unusedBits > 0 ? alignment.look : () => {},
  });
  if (unusedBits > 0 && alignment.isRightAligned()) {
    const scale = 2 ** unusedBits;
    for (const samples of [...decoded.channels, ...(decoded.extremes ?? [])])
      for (let i = 0; i < samples.length; i++) samples[i] = samples[i]! * scale;
    warnings.push({
      code: 'wav.alignment',
      message: `Samples of ${form.validBits} bits sit at the low end of ${SAMPLE_BYTES[form.sample] * 8}-bit containers, against the standard; they are scaled as ${form.validBits}-bit samples.`,
    });
  }
  const sampleRateHz = form.sampleRateHz / factor;
  if (factor > 1) {
    checkShape(fileName, form.channelCount, sampleRateHz, decoded.channels[0]!.length);
    warnings.push({
      code: 'wav.lowered-rate',
      message: `Sampled at ${form.sampleRateHz} Hz and read at ${sampleRateHz.toFixed(0)} Hz behind an anti-alias filter that is flat up to ${(0.3 * sampleRateHz).toFixed(0)} Hz.`,
    });
  }
  const coding = form.sample === 'float32' || form.sample === 'float64' ? 'float' : 'integer';
  return {
    sampleRateHz,
    channels: decoded.channels,
    unit: 'full scale',
    frames: decoded.channels[0]!.length,
    coding,
    warnings,
    ...(decoded.extremes !== null && { extremes: decoded.extremes }),
  };
}

function readForm(fmt: Uint8Array, fileName: string): WavForm {
  const view = new DataView(fmt.buffer, fmt.byteOffset, fmt.byteLength);
  const channelCount = view.getUint16(2, true);
  const sampleRateHz = view.getUint32(4, true);
  const blockBytes = view.getUint16(12, true);
  const bits = view.getUint16(14, true);
  let tag = view.getUint16(0, true);
  let validBits = bits;
  if (tag === TAG_EXTENSIBLE) {
    if (fmt.length < EXTENSIBLE_BYTES) {
      throw new FormatError(
        'wav.fmt',
        `${fileName}: chunk "fmt " of kind EXTENSIBLE has ${fmt.length} bytes; ${EXTENSIBLE_BYTES} or more are expected.`,
        'The header of the file is damaged; use another copy or export it as plain PCM.',
      );
    }
    validBits = view.getUint16(18, true) || bits;
    tag = view.getUint16(24, true);
  }
  const sample = nameSampleForm(tag, bits);
  if (sample === null || validBits > bits) {
    const name = TAG_NAMES[tag] ?? (tag === TAG_PCM ? 'PCM' : tag === TAG_FLOAT ? 'float' : 'unknown');
    throw new FormatError(
      'wav.coding',
      `${fileName}: samples are coded as ${name} (format ${tag}) with ${bits} bits, ${validBits} in use; PCM of 8, 16, 24 or 32 bits or float of 32 or 64 bits is expected.`,
      'Export the recording as uncompressed PCM or float WAV.',
    );
  }
  checkBlock(blockBytes, channelCount * SAMPLE_BYTES[sample], channelCount, fileName);
  return { channelCount, sampleRateHz, sample, validBits };
}

function nameSampleForm(tag: number, bits: number): SampleForm | null {
  if (tag === TAG_FLOAT) return bits === 32 ? 'float32' : bits === 64 ? 'float64' : null;
  if (tag !== TAG_PCM || bits < 1) return null;
  // Plain PCM of, say, 12 bits sits at the top of the next whole number of bytes.
  const forms = ['unsigned8', 'signed16', 'signed24', 'signed32'] as const;
  return forms[Math.ceil(bits / 8) - 1] ?? null;
}

/**
 * A block that does not fit the bits leaves open where in the container the samples sit, so it is refused.
 */
function checkBlock(blockBytes: number, expectedBytes: number, channelCount: number, fileName: string): void {
  if (blockBytes === expectedBytes) return;
  throw new FormatError(
    'wav.block',
    `${fileName}: field block alignment is ${blockBytes} bytes; ${channelCount} channels of the stated bits take ${expectedBytes}.`,
    'The header contradicts itself; export the recording again, as plain PCM if the choice is given.',
  );
}

/**
 * Watches samples, scaled to 1, for bits in use: right-aligned where the bits that should be empty are in use
 * and the top ones never are.
 */
function createAlignmentProbe(validBits: number, unusedBits: number) {
  const highest = 2 ** -unusedBits;
  const step = 2 ** -(validBits - 1);
  let usesLowBits = false;
  let usesHighBits = false;
  return {
    look(samples: Float64Array): void {
      for (let i = 0; i < samples.length && !usesHighBits; i++) {
        const value = samples[i]!;
        usesHighBits = value >= highest || value < -highest;
        usesLowBits ||= value % step !== 0;
      }
    },
    isRightAligned: () => usesLowBits && !usesHighBits,
  };
}
