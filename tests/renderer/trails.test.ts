import fc from 'fast-check';
import { beforeEach, expect, test } from 'vitest';
import { useBenches } from '../../renderer/state/benchStore.ts';
import { beginTrail, changeTrail, redoTrail, type Trail, undoTrail } from '../../renderer/state/trail.ts';

const VISIT = 7;
const pick = (frequencyHz: number) => [{ plane: 0, number: 1, frequencyHz }];
const present = () => useBenches.getState().trails[VISIT]?.present;
const set = (frequencyHz: number, key?: string) =>
  useBenches.getState().change(VISIT, { decisions: pick(frequencyHz) }, `to ${frequencyHz} Hz`, key);

beforeEach(() => {
  useBenches.setState({ trails: {}, views: {} });
  useBenches.getState().begin(VISIT, pick(1), null);
});

test('undo and redo walk through the changes; a new change forgets what was undone', () => {
  const { undo, redo } = useBenches.getState();
  set(2);
  set(3);
  undo(VISIT);
  expect(present()?.decisions).toEqual(pick(2));
  redo(VISIT);
  expect(present()?.decisions).toEqual(pick(3));
  undo(VISIT);
  set(4);
  redo(VISIT);
  expect(present()?.decisions).toEqual(pick(4));
  for (let i = 0; i < 3; i++) undo(VISIT);
  expect(present()?.decisions).toEqual(pick(1));
});

test('picks, the pole in thought and settings are one trail, each step with its words', () => {
  const { change, undo } = useBenches.getState();
  const { settings } = present()!;
  set(2);
  change(VISIT, { settings: { ...settings, spectrumKind: 'psd' } }, 'kind of spectrum');
  const thought = { place: null, cableFactor: 2, massKg: null, massHeightM: null, settingDepthM: null };
  change(VISIT, { thought }, 'a pole in thought');
  const { past } = useBenches.getState().trails[VISIT]!;
  expect(past.map(({ words }) => words)).toEqual(['to 2 Hz', 'kind of spectrum', 'a pole in thought']);
  undo(VISIT);
  expect(present()).toMatchObject({ thought: null, settings: { spectrumKind: 'psd' } });
  undo(VISIT);
  expect(present()).toMatchObject({ settings: { spectrumKind: 'amplitude' }, decisions: pick(2) });
});

test('undo leaves the view where it is', () => {
  const { look, undo } = useBenches.getState();
  set(2);
  look(VISIT, { frequencyRangeHz: [3, 9] });
  undo(VISIT);
  expect(useBenches.getState().views[VISIT]?.frequencyRangeHz).toEqual([3, 9]);
});

test('changes of one drag are one step back', () => {
  const { undo } = useBenches.getState();
  for (const hz of [2, 3, 4]) set(hz, 'drag-1');
  set(5, 'drag-2');
  undo(VISIT);
  expect(present()?.decisions).toEqual(pick(4));
  undo(VISIT);
  expect(present()?.decisions).toEqual(pick(1));
});

test('opening a visit again keeps what was not stored; a visit not open yet begins at what was kept', () => {
  const { begin } = useBenches.getState();
  set(2);
  begin(VISIT, pick(1), null);
  expect(present()?.decisions).toEqual(pick(2));
  expect(useBenches.getState().trails[VISIT]?.stored).toEqual(pick(1));
  const kept = { trail: useBenches.getState().trails[VISIT]!, view: useBenches.getState().views[VISIT]! };
  useBenches.setState({ trails: {}, views: {} });
  begin(VISIT, pick(1), kept);
  expect(present()?.decisions).toEqual(pick(2));
  useBenches.getState().undo(VISIT);
  expect(present()?.decisions).toEqual(pick(1));
});

test('as many steps back as forward lead to where one was, whatever they were', () => {
  const step = fc.record({ hz: fc.integer({ min: 1, max: 50 }), key: fc.option(fc.constantFrom('a', 'b')) });
  fc.assert(
    fc.property(fc.array(step, { minLength: 1, maxLength: 30 }), (steps) => {
      const end = steps.reduce<Trail>(
        (trail, { hz, key }) => changeTrail(trail, { decisions: pick(hz) }, `${hz}`, key ?? undefined),
        beginTrail([]),
      );
      let trail = end;
      for (let i = 0; i < end.past.length; i++) trail = undoTrail(trail);
      expect(trail.present.decisions).toEqual([]);
      expect(undoTrail(trail)).toBe(trail);
      for (let i = 0; i < end.past.length; i++) trail = redoTrail(trail);
      expect(trail.present).toEqual(end.present);
    }),
  );
});
