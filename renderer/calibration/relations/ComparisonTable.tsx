import { ActionIcon, Button } from '@mantine/core';
import { IconPlus, IconTrash } from '@tabler/icons-react';
import { ScrollRegion } from '../../parts/index.ts';
import { formatShare, formatSignificant } from '../../words/index.ts';
import type { Candidate, JudgedRelation, TriedRelations } from '../calibrationTypes.ts';
import { nameRelation } from '../nameRelation.ts';
import { useCalibration } from '../useCalibration.ts';
import { showShare, showSigned } from './pictures/index.ts';

const PA_PER_MPA = 1e6;
const MOST_CANDIDATES = 8;
/** Wide enough that the sampling of some fifty tests explains what differs (ours). */
const EXPECTED_INSIDE = 0.9;

type Column = { title: string; explain: string; cell: (judged: JudgedRelation) => string };

const COLUMNS: readonly Column[] = [
  {
    title: 'Tests',
    explain: 'Tests that every candidate can use',
    cell: ({ tests }) => String(tests.length),
  },
  {
    title: 'R²',
    explain: 'Share of the scatter of strength that the relation explains, on the scale of the fit',
    cell: ({ rSquared }) => formatSignificant(rSquared, 2),
  },
  {
    title: 'Standard error',
    explain: 'Scatter of poles about the relation',
    cell: ({ standardError, standardErrorUnit }) =>
      standardErrorUnit === 'ln'
        ? formatShare(standardError)
        : `${formatSignificant(standardError / PA_PER_MPA)} MPa`,
  },
  {
    title: 'Error, one left out',
    explain: 'Typical error in predicting a pole that the relation was fitted without',
    cell: ({ leaveOneOut }) => showShare(leaveOneOut.rootMeanSquareShare),
  },
  {
    title: 'Error, in parts',
    explain:
      'The same where whole parts of the tests are left out in turn; tests of one pole are never parted',
    cell: ({ folds }) => `${showShare(folds.rootMeanSquareShare)} (${folds.folds} parts)`,
  },
  {
    title: 'Bias',
    explain: 'Mean error of those predictions; above 0 the relation promises too much',
    cell: ({ leaveOneOut }) => showSigned(leaveOneOut.biasShare),
  },
  {
    title: 'Inside 90 %',
    explain: `Share of tests inside their 90 % prediction interval; about ${formatShare(EXPECTED_INSIDE)} are expected`,
    cell: ({ leaveOneOut }) => showShare(leaveOneOut.insideInterval),
  },
];

/** The candidates side by side; the one that is chosen here is the one that the pictures show. */
export function ComparisonTable({ tried: all }: { tried: TriedRelations | null }) {
  const { candidates, shown, show, dropCandidate, addCandidate } = useCalibration();
  const triedOf = (name: string) => all?.relations.find((relation) => relation.name === name);
  return (
    <ScrollRegion className="comparison plain-table" label="Candidate relations side by side">
      <table>
        <thead>
          <tr>
            <th scope="col">Relation</th>
            {COLUMNS.map(({ title, explain }) => (
              <th key={title} scope="col" className="is-number" title={explain}>
                <span className="explained">{title}</span>
              </th>
            ))}
            <th scope="col">
              <Button
                size="compact-xs"
                variant="default"
                leftSection={<IconPlus size={13} />}
                disabled={candidates.length >= MOST_CANDIDATES}
                onClick={() => addCandidate(copyOf(candidates, shown))}
              >
                Another
              </Button>
            </th>
          </tr>
        </thead>
        <tbody>
          {candidates.map(({ name }) => {
            const tried = triedOf(name);
            return (
              <tr key={name} className={name === shown ? 'is-current' : undefined}>
                <th scope="row">
                  <label>
                    <input
                      type="radio"
                      name="shown-relation"
                      checked={name === shown}
                      onChange={() => show(name)}
                    />{' '}
                    {name}
                  </label>
                </th>
                {tried?.problem ? (
                  <td colSpan={COLUMNS.length}>{tried.problem.message}</td>
                ) : (
                  COLUMNS.map(({ title, cell }) => (
                    <td key={title} className="is-number">
                      {tried?.judged ? cell(tried.judged) : <span className="quiet">…</span>}
                    </td>
                  ))
                )}
                <td>
                  <ActionIcon
                    variant="subtle"
                    color="gray"
                    size={24}
                    aria-label={`Drop the relation ${name}`}
                    title="Drop this relation"
                    disabled={candidates.length === 1}
                    onClick={() => dropCandidate(name)}
                  >
                    <IconTrash size={15} />
                  </ActionIcon>
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </ScrollRegion>
  );
}

/** A copy of the shown candidate under a name of its own that is free. */
function copyOf(candidates: readonly Candidate[], shown: string): Candidate {
  const source = candidates.find(({ name }) => name === shown) ?? candidates[0]!;
  return {
    ...source,
    name: nameRelation(
      source.spec,
      candidates.map(({ name }) => name),
    ),
  };
}
