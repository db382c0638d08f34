import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sortablePole } from '../../core/workspace/register/sortablePole.ts';

describe('sortablePole', () => {
  // ICU's collation for English, numbers by value (Unicode Technical Standard 10, as in Intl.Collator)
  const collator = new Intl.Collator('en', { numeric: true });
  const name = fc.stringMatching(/^[A-Za-z0-9 _.,;:!?()[\]{}@*/\\&#%`^+<=>|~$'"-]{1,12}$/);

  it('sorts names as the collator for English does', () => {
    fc.assert(
      fc.property(name, name, (a, b) => {
        const order = Math.sign(collator.compare(a, b));
        if (order === 0) return;
        expect(sortablePole(a) < sortablePole(b) ? -1 : 1).toBe(order);
      }),
      { numRuns: 2000 },
    );
  });

  it('puts accents beside bare letters, and larger numbers later whatever their length', () => {
    const names = ['A 9', 'Ä 10', 'a 11', 'b 12345678', 'b 123456789', 'b 1234567890'];
    expect(names.toSorted((a, b) => (sortablePole(a) < sortablePole(b) ? -1 : 1))).toEqual(names);
    expect(sortablePole('')).toBe('\u0001');
  });
});
