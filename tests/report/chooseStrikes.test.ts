import { expect, it } from 'vitest';
import { chooseStrikes } from '../../core/report/index.ts';
import { assessment } from './fixture.ts';

const [strike] = assessment.strikes;

it('takes the first of the best strikes of each recording', () => {
  const strikes = [
    { ...strike!, recording: 'a.wav', verdict: 'repeat' as const },
    { ...strike!, recording: 'b.wav', verdict: 'repeat' as const },
    { ...strike!, recording: 'a.wav', verdict: 'use with care' as const },
    { ...strike!, recording: 'a.wav', verdict: 'use' as const },
    { ...strike!, recording: 'a.wav', verdict: 'use' as const },
  ];
  expect(chooseStrikes(strikes)).toEqual([
    { recording: 'a.wav', strike: 2 },
    { recording: 'b.wav', strike: 0 },
  ]);
});

it('chooses nothing where there is no strike', () => {
  expect(chooseStrikes([])).toEqual([]);
});
