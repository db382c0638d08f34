import { expect, it } from 'vitest';
import { drawBlow } from '../../core/report/handout/drawBlow.ts';
import type { HandoutBlow, HandoutMark } from '../../core/report/handout/handoutInput.ts';

const channels = [0, 90].map((azimuthDeg) => ({ azimuthDeg, low: [-1, -1, -1], high: [1, 1, 1] }));
const waveform = { timesS: [0, 0.5, 1], channels };
const spectrum = {
  frequenciesHz: [0, 10, 20],
  channels: [0, 90].map((azimuthDeg) => ({ azimuthDeg, values: [1, 2, 1] })),
};
const blow = { number: 3 } as HandoutBlow;
const markAt = (at: number): HandoutMark => ({
  channel: null,
  timeS: [at, at],
  frequencyHz: null,
  words: 'ends here',
});
const draw = (...marks: HandoutMark[]) =>
  drawBlow(blow, { start: waveform, whole: waveform, spectrum, marks }).html;

it('marks the end of a recording, which lies behind the beginning of the last column, and nothing beyond it', () => {
  expect(draw(markAt(1.4)).match(/ends here/g)).toHaveLength(4);
  expect(draw(markAt(1.6))).not.toContain('ends here');
});

it('tells the axes of a spectrum in black and white too', () => {
  expect(draw().match(/class="trace"[^>]*stroke-dasharray/g)).toHaveLength(1);
});
