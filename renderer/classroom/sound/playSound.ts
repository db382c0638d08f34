import type { Sound } from './prepareSound.ts';

let context: AudioContext | null = null;
let playing: AudioBufferSourceNode | null = null;

/** Plays a sound in place of the one that plays. @param onEnd - it ended, or was stopped */
export function playSound(sound: Sound, onEnd: () => void): void {
  stopSound();
  context ??= new AudioContext();
  void context.resume();
  const buffer = context.createBuffer(1, sound.samples.length, sound.rateHz);
  buffer.copyToChannel(sound.samples as Float32Array<ArrayBuffer>, 0);
  const source = context.createBufferSource();
  source.buffer = buffer;
  source.playbackRate.value = sound.playbackRate;
  source.connect(context.destination);
  source.onended = onEnd;
  source.start();
  playing = source;
}

/** Stops what plays; nothing where nothing does. */
export function stopSound(): void {
  playing?.stop();
  playing = null;
}
