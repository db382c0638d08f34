import type { RelationSpec } from '../../core/strength/index.ts';

/** How invented poles are drawn, and by what relation they are predicted. */
export type StudyCase = {
  readonly table: 'plain' | 'groups' | 'robust' | 'linear';
  readonly label: string;
  readonly spec: RelationSpec;
  /** Errors of ln E in the tests and of the pole to be predicted. */
  /** Tests take them in turn. */
  readonly testErrorSds: readonly number[];
  readonly poleErrorSd: number;
  /** Species among the tests, their share falling from one to the next. */
  readonly species: number;
  readonly counts: readonly number[];
  /** Of the series that are asked for: pooled fits take their time. */
  readonly share: number;
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
  [[0], 0],
  [[0.05], 0.05],
  [[0.05], 0.1],
  [[0.1], 0.1],
  [[0.1], 0.2],
  [[0.1], 0.05],
  [[0.03, 0.15], 0.15],
] as const;

const GROUPS_SHARE = 0.4;

/** All cases of the study. */
export function listCases(): StudyCase[] {
  const plain = ERRORS.map(
    ([testErrorSds, poleErrorSd]): StudyCase => ({
      table: 'plain',
      label: 'log-linear',
      spec: BASE,
      testErrorSds,
      poleErrorSd,
      species: 1,
      counts: COUNTS,
      share: 1,
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
        [[0.05], 0.05],
        [[0.05], 0.1],
      ] as const
    ).map(
      ([testErrorSds, poleErrorSd]): StudyCase => ({
        table: 'groups',
        label: `${count} species, ${species}`,
        spec: { ...BASE, species },
        testErrorSds,
        poleErrorSd,
        species: count,
        counts: COUNTS,
        share: GROUPS_SHARE,
      }),
    ),
  );
  const other = { testErrorSds: [0.05], poleErrorSd: 0.05, species: 1, share: 1 };
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
