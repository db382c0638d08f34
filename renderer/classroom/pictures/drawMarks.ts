import type { Range } from '../../state/index.ts';
import type { Palette } from '../../theme.ts';
import type { FaultMark } from '../classroomTypes.ts';

/** A mark as a plot draws it: where along the axis at the bottom, and on which strip. */
export type DrawnMark = { span: Range; words: string; channel: number | null; fault: string };

type Strip = { from: number; to: number };

/** Share of the width that a letter takes in the narrowest plot; words that would run over the edge run to the left instead. */
const LETTER_SHARE = 0.016;
const WORDS_PX = 12;

/** Marks with their place in time. One that bounds nothing but a channel spans all of it. */
export function marksInTime(marks: readonly FaultMark[], whole: Range): DrawnMark[] {
  return marks.flatMap(({ timeS, frequencyHz, channel, words, fault }) =>
    timeS || !frequencyHz ? [{ span: timeS ?? whole, words, channel, fault }] : [],
  );
}

/** Marks with their place in frequency alone. */
export function marksInFrequency(marks: readonly FaultMark[]): DrawnMark[] {
  return marks.flatMap(({ timeS, frequencyHz, channel, words, fault }) =>
    frequencyHz && !timeS ? [{ span: frequencyHz, words, channel, fault }] : [],
  );
}

/**
 * Shapes and words of marks: a band with a dashed edge where each lies, on its strip. The words stand at the top, over the first of
 * those that say the same.
 * @param strips - the plot's strips, from the top, as shares of its height
 * @param above - words stand over the plot, not within it
 */
export function drawMarks(
  palette: Palette,
  marks: readonly DrawnMark[],
  strips: readonly Strip[],
  range: Range,
  above = false,
): { shapes: object[]; annotations: object[] } {
  const shown = marks.filter(({ span }) => span[1] >= range[0] && span[0] <= range[1]);
  const line = { color: palette.ink, width: 1, dash: 'dot' };
  const shapes = shown.flatMap(({ span, channel }) =>
    strips
      .filter((_, i) => channel === null || channel === i || strips.length === 1)
      .map(({ from, to }) => ({
        type: 'rect',
        xref: 'x',
        yref: 'paper',
        x0: Math.max(span[0], range[0]),
        x1: Math.min(span[1], range[1]),
        y0: from,
        y1: to,
        layer: 'below',
        fillcolor: palette.resultFill,
        line,
      })),
  );
  const said = new Set<string>();
  const annotations = shown
    .toSorted((a, b) => a.span[0] - b.span[0])
    .flatMap(({ span, words }) => {
      if (said.has(words)) return [];
      said.add(words);
      const at = Math.max(span[0], range[0]);
      const isLate = (at - range[0]) / (range[1] - range[0]) + words.length * LETTER_SHARE > 1;
      return [
        {
          xref: 'x',
          yref: 'paper',
          x: isLate ? Math.min(span[1], range[1]) : at,
          y: 1,
          xanchor: isLate ? 'right' : 'left',
          yanchor: above ? 'bottom' : 'top',
          showarrow: false,
          text: words,
          font: { size: WORDS_PX, color: palette.ink },
          bgcolor: palette.panel,
          borderpad: above ? 0 : 1,
        },
      ];
    });
  return { shapes, annotations };
}
