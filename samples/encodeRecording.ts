import wavefile from 'wavefile';

/** How a recording is kept. */
export type RecordingForm = 'pcm16' | 'pcm24' | 'float32' | 'csv';

const PCM_BITS = { pcm16: 16, pcm24: 24 } as const;
/** A recorder that writes CSV quantises like one that writes 16 bits. */
const CSV_BITS = 16;
const CSV_DECIMALS = 5;

/**
 * Encodes two sensor axes as the bytes of a file.
 * @param channels - acceleration in m/s2, within the full scale
 * @returns WAV bytes: PCM as a share of the full scale, float32 in m/s2; or CSV with a header row, in m/s2
 */
export function encodeRecording(
  channels: readonly [Float64Array, Float64Array],
  sampleRateHz: number,
  fullScaleMPerS2: number,
  form: RecordingForm,
): Uint8Array {
  if (form === 'csv') return new TextEncoder().encode(writeCsv(channels, sampleRateHz, fullScaleMPerS2));
  const wav = new wavefile.WaveFile();
  if (form === 'float32') {
    wav.fromScratch(2, sampleRateHz, '32f', channels as unknown as Float64Array[]);
  } else {
    const bits = PCM_BITS[form];
    const steps = channels.map((channel) => quantise(channel, fullScaleMPerS2, bits));
    wav.fromScratch(2, sampleRateHz, String(bits), steps);
  }
  return wav.toBuffer();
}

function quantise(channel: Float64Array, fullScaleMPerS2: number, bits: number): Float64Array {
  const half = 2 ** (bits - 1);
  return channel.map((value) =>
    Math.max(-half, Math.min(half - 1, Math.round((value / fullScaleMPerS2) * half))),
  );
}

function writeCsv(
  channels: readonly [Float64Array, Float64Array],
  sampleRateHz: number,
  fullScaleMPerS2: number,
): string {
  const stepMPerS2 = fullScaleMPerS2 / 2 ** (CSV_BITS - 1);
  const [first, second] = channels.map((channel) => quantise(channel, fullScaleMPerS2, CSV_BITS));
  const rows = ['time_s,plane0_m_per_s2,plane90_m_per_s2'];
  for (const [i, step] of first!.entries()) {
    const values = [step * stepMPerS2, second![i]! * stepMPerS2];
    rows.push(
      `${(i / sampleRateHz).toFixed(4)},${values.map((value) => value.toFixed(CSV_DECIMALS)).join(',')}`,
    );
  }
  return `${rows.join('\n')}\n`;
}
