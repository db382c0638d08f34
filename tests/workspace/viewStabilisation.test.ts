import { expect, it } from 'vitest';
import { identifyModes, proposeModes } from '../../core/modal/index.ts';
import { contract } from '../../core/workspace/index.ts';
import { viewStabilisation } from '../../core/workspace/viewStabilisation.ts';
import { makePlane, makeVisit } from '../modal/makeVisit.ts';

it('shows the diagram of a visit and its damping by three roads, in the form of the contract', () => {
  const planes = [makePlane(1), makePlane(1.02)];
  const segments = makeVisit({ planes, exciters: ['hammer', 'hand', 'hand'], seed: 91, turnDeg: 5 });
  const { candidates, turnDeg } = identifyModes(segments);
  const { modes } = proposeModes(candidates, [], { strikes: 3, cornerHz: null });
  const view = viewStabilisation({ segments, candidates: modes, turnDeg });
  const carried = contract['visit.stabilisation'].response.parse(JSON.parse(JSON.stringify(view)));
  expect(carried).toEqual(view);
  expect(Math.abs(carried.turnDeg.value)).toBeCloseTo(5, 0);
  for (const { frequencyHz } of planes.flat()) {
    expect(carried.clusters.some((cluster) => Math.abs(cluster.frequencyHz / frequencyHz - 1) < 0.01)).toBe(
      true,
    );
  }
  expect(carried.damping).toHaveLength(modes.filter(({ accepted }) => accepted).length);
  for (const { fit, decay } of carried.damping.filter((mode) => mode.frequencyHz > 5)) {
    expect(Math.abs(decay!.value / fit.value - 1)).toBeLessThan(0.3);
  }
});

it('is empty where no strike can be used', () => {
  const view = viewStabilisation({ segments: [], candidates: [], turnDeg: { value: 0, sd: 0 } });
  expect(contract['visit.stabilisation'].response.parse(view)).toMatchObject({ poles: [], damping: [] });
});
