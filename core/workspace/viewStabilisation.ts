import type { AnalysedVisit } from '../assess.ts';
import { compareDamping, computeStabilisation } from '../modal/index.ts';
import type { CallResponse } from './contract.ts';
import { roundForTransport } from './roundForTransport.ts';

/** Computes the stabilisation diagram of a visit's usable strikes, and its modes' damping by three roads. */
export function viewStabilisation({
  segments,
  candidates,
  turnDeg,
}: Pick<AnalysedVisit, 'segments' | 'candidates' | 'turnDeg'>): CallResponse<'visit.stabilisation'> {
  const { orders, planes, poles, clusters, indicator } = computeStabilisation(segments);
  const round = <T extends object>(row: T): T =>
    Object.fromEntries(
      Object.entries(row).map(([key, value]) => [
        key,
        typeof value === 'number'
          ? roundForTransport(value)
          : Array.isArray(value)
            ? value.map(roundForTransport)
            : value,
      ]),
    ) as T;
  return {
    orders,
    planes,
    turnDeg: round(turnDeg),
    poles: poles.map(round),
    clusters: clusters.map(round),
    indicator: {
      frequenciesHz: indicator.frequenciesHz.map(roundForTransport),
      planes: indicator.planes.map((levels) => levels.map(roundForTransport)),
    },
    damping: candidates
      .filter(({ accepted }) => accepted)
      .map((candidate) => {
        const { fit, decay, ...rest } = compareDamping(segments, candidate, turnDeg.value);
        return { ...round(rest), fit: round(fit), decay: decay && round(decay) };
      }),
  };
}
