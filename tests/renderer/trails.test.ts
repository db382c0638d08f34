import { beforeEach, expect, test } from 'vitest';
import { useDecisions } from '../../renderer/state/store.ts';

const VISIT = 7;
const pick = (frequencyHz: number) => [{ plane: 0, number: 1, frequencyHz }];
const present = () => useDecisions.getState().trails[VISIT]?.present;

beforeEach(() => {
  useDecisions.setState({ trails: {} });
  useDecisions.getState().begin(VISIT, pick(1));
});

test('undo and redo walk through the changes; a new change forgets what was undone', () => {
  const { change, undo, redo } = useDecisions.getState();
  change(VISIT, pick(2));
  change(VISIT, pick(3));
  undo(VISIT);
  expect(present()).toEqual(pick(2));
  redo(VISIT);
  expect(present()).toEqual(pick(3));
  undo(VISIT);
  change(VISIT, pick(4));
  redo(VISIT);
  expect(present()).toEqual(pick(4));
  undo(VISIT);
  undo(VISIT);
  undo(VISIT);
  expect(present()).toEqual(pick(1));
});

test('changes of one drag are one step back', () => {
  const { change, undo } = useDecisions.getState();
  for (const hz of [2, 3, 4]) change(VISIT, pick(hz), 'drag-1');
  change(VISIT, pick(5), 'drag-2');
  undo(VISIT);
  expect(present()).toEqual(pick(4));
  undo(VISIT);
  expect(present()).toEqual(pick(1));
});

test('opening a visit again keeps what was not stored', () => {
  const { change, begin } = useDecisions.getState();
  change(VISIT, pick(2));
  begin(VISIT, pick(1));
  expect(present()).toEqual(pick(2));
  expect(useDecisions.getState().trails[VISIT]?.stored).toEqual(pick(1));
});
