import { describe, expect, it } from 'vitest';
import { tellUninspected } from '../../core/tellUninspected.ts';

const visit = (poleId: string, isGroundLineInspected: boolean) => ({ poleId, isGroundLineInspected });

describe('tellUninspected', () => {
  it('says nothing where all were inspected', () => {
    expect(tellUninspected([])).toBeNull();
    expect(tellUninspected([visit('TV-1', true), visit('TV-2', true)])).toBeNull();
  });

  it('speaks of one pole without a number', () => {
    const words = 'The ground line was not inspected, and no result speaks of decay there.';
    expect(tellUninspected([visit('TV-1', false)])).toBe(words);
    expect(tellUninspected([visit('TV-1', false), visit('TV-1', false)])).toBe(words);
  });

  it('counts poles, not visits', () => {
    const visits = [visit('TV-1', false), visit('TV-1', false), visit('TV-2', true), visit('TV-3', false)];
    expect(tellUninspected(visits)).toBe(
      'On 2 of these 3 poles the ground line was not inspected, and no result speaks of decay there.',
    );
  });
});
