import { expect, it } from 'vitest';
import { collectFindings } from '../../core/collectFindings.ts';
import { assessment } from '../report/fixture.ts';

const strength = { ...assessment.strength!, warnings: ['Few tests.'] };
const named = (...ids: string[]) => ids.map((id) => ({ id, text: `${id}.` }));
const idsOf = (...given: Parameters<typeof collectFindings>) => collectFindings(...given).map(({ id }) => id);

it('tells what withholds first, then what speaks against keeping, then the rest, each in the order of the chain', () => {
  const findings = [
    ...named('odd-pick', 'soft-root', 'own-picks'),
    { id: 'misfit', text: 'Withholds as well.', advice: 'Check.' },
    ...named('one-sided', 'section-not-inspected'),
  ];
  expect(
    idsOf({ findings, strength, withheldBecause: 'one-sided.' }, named('changed-between-visits')),
  ).toEqual([
    'misfit',
    'one-sided',
    'changed-between-visits',
    'soft-root',
    'section-not-inspected',
    'odd-pick',
    'own-picks',
    'calibration-limit',
  ]);
});

it('tells of a calibration that warns of nothing, or of none, nothing', () => {
  const findings = named('long-pole');
  expect(idsOf({ findings, strength: { ...strength, warnings: [] }, withheldBecause: null })).toEqual([
    'long-pole',
  ]);
  expect(idsOf({ findings, strength: null, withheldBecause: null })).toEqual(['long-pole']);
});
