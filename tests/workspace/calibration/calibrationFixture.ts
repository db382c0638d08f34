import {
  type CallName,
  type CallRequest,
  type CallResponse,
  callService,
  contract,
  createWorkspaceService,
  type Handlers,
  importVisit,
  type Store,
} from '../../../core/workspace/index.ts';
import { makeBreakTests } from '../../../samples/breakTests.ts';
import { makeCsv, makeSource, makeStore, makeVisitFile } from '../visitFixture.ts';

export const SERIES = 'break-tests.csv';
const series = makeBreakTests();

export const PLAIN: CallRequest<'calibration.tryRelations'>['candidates'][number]['spec'] = {
  response: 'groundlineStress',
  form: 'log-linear',
  predictors: ['modulus'],
  species: 'none',
  treatment: 'none',
  estimator: 'ordinary',
  modulusError: 'ignored',
};

export function encode(text: string): string {
  return Buffer.from(text).toString('base64');
}

/** Calls, insists on success, and holds the answer against the contract after the trip through JSON. */
export async function call<N extends CallName>(
  handlers: Handlers,
  name: N,
  request: CallRequest<N>,
): Promise<CallResponse<N>> {
  const answer = await callService(handlers, name, request);
  if (!answer.ok) throw new Error(`${name} refused: ${answer.code} ${answer.message}`);
  return contract[name].response.parse(JSON.parse(JSON.stringify(answer.value))) as CallResponse<N>;
}

/** A workspace with a visit to each of the poles, assessed. Visits are numbered from 1 in the order of the poles. */
export async function makeAssessed(
  poleIds: readonly string[],
): Promise<{ store: Store; handlers: Handlers }> {
  const store = await makeStore();
  for (const [i, poleId] of poleIds.entries()) {
    const source = makeSource(
      makeVisitFile(poleId),
      { [`${poleId}.csv`]: makeCsv(i) },
      `${poleId}.visit.json`,
    );
    await importVisit(store, source);
  }
  const handlers = createWorkspaceService(store);
  for (const visitId of poleIds.keys())
    await call(handlers, 'visit.assess', { visitId: visitId + 1, decisions: [] });
  return { store, handlers };
}

/** Keeps the invented series, or a table of one's own, with the proposed mapping. @param said - what becomes of tests that are in use */
export async function keepSeries(
  handlers: Handlers,
  table = series,
  fileName = SERIES,
  said?: Omit<NonNullable<CallRequest<'calibration.keepTests'>['alreadyHere']>, 'earlier'>,
) {
  const file = { fileName, base64: encode(table) };
  const { mapping, alreadyHere } = await call(handlers, 'calibration.readTests', file);
  const earlier = alreadyHere?.earlier ?? [];
  return call(handlers, 'calibration.keepTests', {
    ...{ ...file, mapping },
    ...(said && { alreadyHere: { ...said, earlier } }),
  });
}

/** The series tells nothing of its arms, so that every relation to it has a weakness. */
const DESPITE = 'the arms of an invented series';

/** Publishes a relation fitted to all kept tests. @returns its number in the workspace */
export async function publish(handlers: Handlers, name = 'series', spec = PLAIN): Promise<number> {
  const { calibrationId } = await call(handlers, 'calibration.publish', {
    candidate: { name, spec },
    name,
    author: 'E. Engineer',
    note: 'invented series',
    despite: DESPITE,
  });
  return calibrationId;
}

/** Brings the workspace under a calibration and waits until it has come to an end. */
export async function recompute(handlers: Handlers, calibrationId: number | null) {
  await call(handlers, 'calibration.recompute', { calibrationId, askedBy: 'E. Engineer' });
  return untilDone(handlers);
}

export async function untilDone(handlers: Handlers): Promise<CallResponse<'calibration.recomputeProgress'>> {
  for (;;) {
    const progress = await call(handlers, 'calibration.recomputeProgress', {});
    if (progress.state !== 'running') return progress;
    await new Promise((resolve) => setImmediate(resolve));
  }
}
