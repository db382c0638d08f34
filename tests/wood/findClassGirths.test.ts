import fc from 'fast-check';
import { expect, test } from 'vitest';
import { findClassGirths, findLowerCircumference } from '../../core/wood/index.ts';

/*
 * Least girths are those of the table that tests/reference/poleClasses.test.ts checks against its sources; here it is what is made
 * of them.
 */

const LENGTH_M = 9.14;
const AT_M = 1.83;

test('southern pine has the girths of the table, from its own class to the next stronger one', () => {
  const [own, stronger] = ['4', '3'].map((code) => findLowerCircumference(code, LENGTH_M)!.circumferenceM);
  const usual = findClassGirths('4', LENGTH_M, 'southern-pine', AT_M)!;
  expect(usual.leastM).toBeCloseTo(own!, 3);
  expect(usual.mostM).toBeCloseTo(stronger!, 3);
});

test('a species of three quarters of the stress is thicker by the cube root of 4/3 (bending of beams)', () => {
  const pine = findClassGirths('4', LENGTH_M, 'southern-pine', AT_M)!;
  const cedar = findClassGirths('4', LENGTH_M, 'western-redcedar', AT_M)!;
  expect(cedar.leastM / pine.leastM).toBeCloseTo(1.1006, 3);
});

test('at the tip it is the least girth of the tip, 21 inches for class 4 (ANSI O5.1, from memory)', () => {
  expect(findClassGirths('4', LENGTH_M, 'southern-pine', LENGTH_M)!.leastM).toBeCloseTo(21 * 0.0254, 6);
});

test('the strongest class of the table and a species without a stress have no upper girth', () => {
  expect(findClassGirths('1', LENGTH_M, 'southern-pine', AT_M)!.mostM).toBeNull();
  expect(findClassGirths('4', LENGTH_M, 'other', AT_M)!.mostM).toBeNull();
});

test('a length without a row has none, and an unknown class is refused by name', () => {
  expect(findClassGirths('4', 33, 'southern-pine', AT_M)).toBeNull();
  expect(() => findClassGirths('Z', LENGTH_M, 'southern-pine', AT_M)).toThrow(/"Z" is no pole class/);
});

test('girths fall towards the tip, and the range is never empty', () => {
  fc.assert(
    fc.property(
      fc.constantFrom('2', '3', '4', '5', '6'),
      fc.double({ min: 0, max: 8, noNaN: true }),
      (code, atM) => {
        const here = findClassGirths(code, LENGTH_M, 'douglas-fir', atM)!;
        const above = findClassGirths(code, LENGTH_M, 'douglas-fir', atM + 1)!;
        expect(above.leastM).toBeLessThan(here.leastM);
        expect(here.mostM!).toBeGreaterThan(here.leastM);
      },
    ),
  );
});
