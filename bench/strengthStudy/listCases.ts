import type { RelationSpec } from '../../core/strength/index.ts';

/** How invented poles are drawn, and by what relation they are predicted. */
export type StudyCase = {
  readonly table: 'plain' | 'groups' | 'robust' | 'linear';
  readonly label: string;
  readonly spec: RelationSpec;
  /** Errors of ln E in the tests and of the pole to be predicted. */
  readonly testErrorSd: number;
  readonly poleErrorSd: number;
  /** Species among the tests, their share falling from one to the next. */
  readonly species: number;
  readonly counts: readonly number[];
};

export const COUNTS = [8, 15, 30, 60] as const;

const BASE: RelationSpec = {
  response: 'groundlineStress',
  form: 'log-linear',
  predictors: ['modulus'],
  species: 'none',
  treatment: 'none',
  estimator: 'ordinary',
  modulusError: 'acknowledged',
};

const ERRORS = [
  [0, 0],
  [0.05, 0.05],
  [0.05, 0.1],
  [0.1, 0.1],
  [0.1, 0.2],
  [0.1, 0.05],
] as const;

/** All cases of the study. */
export function listCases(): StudyCase[] {
  const plain = ERRORS.map(
    ([testErrorSd, poleErrorSd]): StudyCase => ({
      table: 'plain',
      label: 'log-linear',
      spec: BASE,
      testErrorSd,
      poleErrorSd,
      species: 1,
      counts: COUNTS,
    }),
  );
  const groups = (
    [
      ['pooled', 3],
      ['pooled', 6],
      ['fixed', 3],
    ] as const
  ).flatMap(([species, count]) =>
    (
      [
        [0.05, 0.05],
        [0.05, 0.1],
      ] as const
    ).map(
      ([testErrorSd, poleErrorSd]): StudyCase => ({
        table: 'groups',
        label: `${count} species, ${species}`,
        spec: { ...BASE, species },
        testErrorSd,
        poleErrorSd,
        species: count,
        counts: COUNTS,
      }),
    ),
  );
  const other = { testErrorSd: 0.05, poleErrorSd: 0.05, species: 1 };
  return [
    ...plain,
    ...groups,
    {
      ...other,
      table: 'robust',
      label: 'robust',
      spec: { ...BASE, estimator: 'robust' },
      counts: COUNTS.slice(1),
    },
    { ...other, table: 'linear', label: 'linear', spec: { ...BASE, form: 'linear' }, counts: COUNTS },
  ];
}
