/** What relations are called while nobody named them, by hand. */
import { beforeEach, describe, expect, it } from 'vitest';
import { nameRelation } from '../../renderer/calibration/nameRelation.ts';
import { useCalibration } from '../../renderer/calibration/useCalibration.ts';

const { candidates: first } = useCalibration.getState();
const plain = first[0]!.spec;

describe('nameRelation', () => {
  it.each([
    [{}, 'stiffness alone'],
    [{ predictors: [] }, 'mean of the tests'],
    [{ predictors: ['age'] }, 'age alone'],
    [{ species: 'fixed' }, 'stiffness and species'],
    [{ predictors: ['modulus', 'age'], species: 'pooled' }, 'stiffness, age and species'],
    [{ predictors: ['modulus', 'age', 'moisture'], treatment: 'fixed' }, 'stiffness, age and 2 more'],
  ] as const)('of %o is its predictors: %s', (change, name) => {
    expect(nameRelation({ ...plain, ...change })).toBe(name);
  });

  it('numbers those that would be called alike', () => {
    expect(nameRelation(plain, ['stiffness alone', 'stiffness alone 2'])).toBe('stiffness alone 3');
  });
});

describe('the name of a candidate', () => {
  beforeEach(() => useCalibration.setState({ candidates: first, shown: 'stiffness alone' }));
  const names = () => useCalibration.getState().candidates.map(({ name }) => name);

  it('goes with its choices, and what is shown with it', () => {
    useCalibration.getState().changeSpec('stiffness alone', { ...plain, predictors: ['age'] });
    expect(names()).toEqual(['age alone', 'stiffness and species']);
    expect(useCalibration.getState().shown).toBe('age alone');
  });

  it('keeps its number off another of the same choices', () => {
    useCalibration.getState().changeSpec('stiffness alone', { ...plain, species: 'fixed' });
    expect(names()).toEqual(['stiffness and species 2', 'stiffness and species']);
    useCalibration.getState().changeSpec('stiffness and species 2', plain);
    expect(names()[0]).toBe('stiffness alone');
  });

  it('stays where a person named it', () => {
    useCalibration.getState().renameCandidate('stiffness alone', 'mine');
    useCalibration.getState().changeSpec('mine', { ...plain, predictors: ['age'] });
    expect(names()[0]).toBe('mine');
  });
});
