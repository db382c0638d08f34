import { type AnalysedVisit, analyseVisit } from '../../core/assess.ts';
import { formatMeasured, formatNumber, UNITS } from '../../core/formatNumbers.ts';
import { compareDamping, computeStabilisation } from '../../core/modal/index.ts';
import { namePlane } from '../../core/namePlane.ts';
import { readVisit } from '../visitFiles.ts';
import { print, printJson } from './print.ts';

type Listing = ReturnType<typeof listModes>;

/**
 * Prints what a visit's strikes were found to ring at: every candidate taken or refused with its reason, the damping of the
 * taken by three roads, modes that no strike shows, and poles that hold over model orders. Nothing is fitted.
 */
export function runModes(path: string, options: { json?: boolean }): number {
  const listing = listModes(analyseVisit(readVisit(path)));
  if (options.json) printJson({ visit: path, ...listing });
  else print(describe(listing).join('\n'));
  return 0;
}

function listModes({ segments, candidates, missing, azimuthsDeg, turnDeg }: AnalysedVisit) {
  return {
    azimuthsDeg,
    turnDeg,
    candidates: candidates.map((candidate) => {
      const { decay, halfPower } = candidate.accepted
        ? compareDamping(segments, candidate, turnDeg.value)
        : { decay: null, halfPower: null };
      return { ...candidate, damping: { fit: candidate.dampingRatio, decay, halfPower } };
    }),
    missing,
    clusters: computeStabilisation(segments).clusters.toSorted((a, b) => a.frequencyHz - b.frequencyHz),
  };
}

function describe({ azimuthsDeg, candidates, missing, clusters }: Listing): string[] {
  const planeOf = (plane: number) => namePlane(plane, azimuthsDeg[plane]!);
  return [
    'Modes, taken and refused:',
    ...candidates.map(
      (candidate) =>
        `  ${candidate.accepted ? 'taken  ' : 'refused'} ${planeOf(candidate.plane)}, ${formatMeasured(candidate.frequencyHz, UNITS.hertz)}, ` +
        `damping ${describeDamping(candidate.damping)}: ${candidate.reason}`,
    ),
    ...(candidates.length === 0 ? ['  none'] : []),
    ...missing.map(({ plane, number, reason }) => `  missing ${planeOf(plane)}, mode ${number}: ${reason}`),
    'Poles that hold over model orders:',
    ...clusters.map(
      ({ frequencyHz, dampingRatio, planeShares, orders }) =>
        `  ${formatNumber(frequencyHz, 4)} Hz at ${orders} orders, damping ${formatPercent(dampingRatio)}, ` +
        planeShares
          .map((share, plane) => `${formatNumber(100 * share)} % along the ${planeOf(plane)}`)
          .join(', '),
    ),
    ...(clusters.length === 0 ? ['  none'] : []),
  ];
}

function describeDamping({ fit, decay, halfPower }: Listing['candidates'][number]['damping']): string {
  const others = [
    ...(decay === null ? [] : [`decay ${formatPercent(decay.value)}`]),
    ...(halfPower === null ? [] : [`width ${formatPercent(halfPower)}`]),
  ];
  return formatPercent(fit.value) + (others.length > 0 ? ` (${others.join(', ')})` : '');
}

function formatPercent(ratio: number): string {
  return `${formatNumber(100 * ratio)} %`;
}
