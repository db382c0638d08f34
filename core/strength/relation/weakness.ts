import { z } from 'zod';

/** What speaks against a relation, whatever pole it is asked of; each has a sentence of its own. */
const WEAKNESSES = [
  'no-better-than-mean',
  'softer-is-stronger',
  'rests-on-few-tests',
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
