import { pixelOf } from '../plots/index.ts';
import type { Picture } from '../types.ts';
import { formatSignificant } from '../words/index.ts';
import type { StemRootFrames } from './drawStemRoot.ts';

const PA_PER_GPA = 1e9;
const GAP_PX = 3;

type StemRootGroundProps = { picture: Picture; frames: StemRootFrames };

/** What stands under what the recordings tell, over the axes of the plane: what is usual before recording, and the E required. */
export function StemRootGround({ picture, frames }: StemRootGroundProps) {
  const { classRange, requiredModulusPa } = picture;
  const { endPx: right, range } = frames.stem;
  const { endPx: top, startPx: bottom } = frames.root;
  const [low, high] = classRange.modulusPa.map((pa) => pixelOf(frames.stem, pa / PA_PER_GPA));
  const [loose, firm] = classRange.fixity.map((fixity) => pixelOf(frames.root, fixity));
  const requiredGPa = requiredModulusPa === null ? null : requiredModulusPa / PA_PER_GPA;
  const requiredPx = requiredGPa === null ? null : pixelOf(frames.stem, requiredGPa);
  const isRight = requiredGPa !== null && requiredGPa > (range[0] + range[1]) / 2;
  return (
    <svg className="stem-root-ground" width={right} height={bottom} aria-hidden>
      <rect className="usual" x={low} y={firm} width={high! - low!} height={loose! - firm!} />
      {/* at its foot: what the recordings leave possible lies higher, more often than not */}
      <text className="usual-words" x={high! - GAP_PX} y={loose! - GAP_PX} textAnchor="end">
        usual before recording
      </text>
      {requiredPx !== null && (
        <>
          <path className="required" d={`M${requiredPx} ${top}V${bottom}`} />
          <text
            x={isRight ? requiredPx - GAP_PX : requiredPx + GAP_PX}
            y={top - GAP_PX}
            textAnchor={isRight ? 'end' : 'start'}
          >
            required: E {formatSignificant(requiredGPa!)} GPa
          </text>
        </>
      )}
    </svg>
  );
}
