import { useMemo } from 'react';
import { type RegionRing, traceRegions } from '../../core/workspace/contract.ts';
import { pixelOf } from '../plots/index.ts';
import type { Assessment, Picture } from '../types.ts';
import type { StemRootFrames } from './drawStemRoot.ts';

const PA_PER_GPA = 1e9;
const CROSS_PX = 7;
const TENTHS = 10;

type StemRootMarksProps = {
  picture: Picture;
  assessment: Assessment | null;
  frames: StemRootFrames;
};

/**
 * What the recordings left possible of stem and root, over the plane: credible regions and the estimate. They move with every
 * pick; the plane does not, and is slow to draw.
 */
export function StemRootMarks({ picture, assessment, frames }: StemRootMarksProps) {
  const rings = useMemo(() => traceRegions(picture), [picture]);
  const { stem, root } = assessment ?? {};
  const outer = Math.max(...picture.credibleLevels.map((level) => level.probability));
  const at = (modulusPa: number, fixity: number) =>
    [pixelOf(frames.stem, modulusPa / PA_PER_GPA), pixelOf(frames.root, fixity)] as const;
  const draw = ({ points }: RegionRing) =>
    drawSmooth(points.map(([modulusPa, fixity]) => at(modulusPa, fixity)));
  const { startPx: left, endPx: right } = frames.stem;
  const { endPx: top, startPx: bottom } = frames.root;
  return (
    <svg
      className="stem-root-marks"
      style={{ left, top }}
      width={right - left}
      height={bottom - top}
      viewBox={`${left} ${top} ${right - left} ${bottom - top}`}
      aria-hidden
    >
      {picture.credibleLevels.map(({ probability }) => (
        <path
          key={probability}
          className={probability === outer ? 'is-outer' : undefined}
          d={rings
            .filter((ring) => ring.probability === probability)
            .map(draw)
            .join('')}
        />
      ))}
      {stem && root && (
        <path
          className="estimate"
          d={`M${-CROSS_PX} 0H${CROSS_PX}M0 ${-CROSS_PX}V${CROSS_PX}`}
          transform={`translate(${at(stem.modulusPa.value, root.fixity.value).join(' ')})`}
        />
      )}
    </svg>
  );
}

type Pixel = readonly [x: number, y: number];

/** A closed line through the middles between points, bent round the points: those of a grid's contour lie a cell apart. */
function drawSmooth(points: readonly Pixel[]): string {
  const write = ([x, y]: Pixel) => `${Math.round(x * TENTHS) / TENTHS} ${Math.round(y * TENTHS) / TENTHS}`;
  const corners = points.slice(1);
  const middles = corners.map((point, i): Pixel => {
    const [x, y] = corners[(i + 1) % corners.length]!;
    return [(point[0] + x) / 2, (point[1] + y) / 2];
  });
  const bends = corners.map((corner, i) => `Q${write(corner)} ${write(middles[i]!)}`);
  return `M${write(middles.at(-1)!)}${bends.join('')}Z`;
}
