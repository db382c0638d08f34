import { z } from 'zod';

/** What speaks against a relation, whatever pole it is asked of; each has a sentence of its own. */
const WEAKNESSES = [
  'no-better-than-mean',
  'softer-is-stronger',
  'rests-on-few-tests',
  'pole-repeated',
  'kind-overstated',
  'few-of-a-kind',
  'specimens',
  'stress-where-it-broke',
  'arms-not-shortened',
  'not-judged',
] as const;

export const weaknessSchema = z.strictObject({
  id: z.enum(WEAKNESSES),
  text: z.string().max(4000).describe('In plain sentences.'),
});

export type Weakness = Readonly<z.infer<typeof weaknessSchema>>;

/** Poles of these kinds are withheld; poles of other kinds need not be told. */
const OF_ONE_KIND: readonly Weakness['id'][] = ['kind-overstated', 'few-of-a-kind'];

/** Whether every result under the relation is to say so. */
export function concernsEveryPole({ id }: Weakness): boolean {
  return !OF_ONE_KIND.includes(id);
}

/** Of a calibration that was published before relations were judged at publishing: the safest reading. */
export const NOT_JUDGED: Weakness = {
  id: 'not-judged',
  text:
    'The calibration was published by an earlier program, which did not ask how well it predicts, nor note tests whose arm had not been shortened. ' +
    'Publish its relation anew.',
};

/**
 * Of tests whose moment was taken with the whole arm.
 * @param count - null: how many is not on record
 */
export function tellArms(count: number | null, tests: number): Weakness {
  return {
    id: 'arms-not-shortened',
    text:
      `Of ${count ?? 'some'} of the ${tests} tests nobody noted by how much the arm of the load had shortened at the break: they are told too strong ` +
      '(by 9 % where the pole had bent by 8 % of its arm), and so are poles predicted from them.',
  };
}
