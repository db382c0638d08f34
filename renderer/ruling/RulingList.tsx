import { Button } from '@mantine/core';
import { useState } from 'react';
import { callHost } from '../client.ts';
import { ErrorNote } from '../parts/index.ts';
import type { Failure, Ruling } from '../types.ts';
import { formatMoment } from '../words/index.ts';
import { TakeBack } from './TakeBack.tsx';
import { useAnalyst } from './useAnalyst.ts';

type RulingListProps = {
  rulings: readonly Ruling[];
  /** The result that is stored with the visit now. */
  assessmentId: number | null;
  /** Whether the result in sight is the stored one, not a trial of other choices. */
  isShown: boolean;
  /** Rulings made since the visit was opened: these can be taken back. */
  fresh: ReadonlySet<number>;
  onChanged: () => void;
};

/** What was decided about a visit, the latest first. Nothing ever leaves the list; what was withdrawn says so. */
export function RulingList({ rulings, assessmentId, isShown, fresh, onChanged }: RulingListProps) {
  const [analyst] = useAnalyst();
  const [failure, setFailure] = useState<Failure | null>(null);

  async function sign({ rulingId }: Ruling): Promise<void> {
    const answer = await callHost('ruling.sign', { rulingId, person: analyst });
    setFailure(answer.ok ? null : answer);
    if (answer.ok) onChanged();
  }

  return (
    <>
      {rulings.length === 0 && <p className="quiet">No ruling on this visit yet.</p>}
      {failure && <ErrorNote failure={failure} />}
      <ol className="rulings" aria-label="Rulings on this visit">
        {rulings.map((ruling) => (
          <li key={ruling.rulingId}>
            <RulingWords ruling={ruling} about={nameResult(ruling.assessmentId, assessmentId, isShown)} />
            {!ruling.withdrawn && fresh.has(ruling.rulingId) && (
              <TakeBack rulings={[ruling]} onTakenBack={onChanged} />
            )}
            {canSign(ruling, analyst) && (
              <Button size="compact-xs" variant="default" onClick={() => void sign(ruling)}>
                Sign as {analyst}
              </Button>
            )}
          </li>
        ))}
      </ol>
    </>
  );
}

function RulingWords({ ruling, about }: { ruling: Ruling; about: string }) {
  const { decision, analyst, decidedAt, reason, signed, withdrawn } = ruling;
  return (
    <>
      {withdrawn ? <s>{decision}</s> : <strong>{decision}</strong>}, {analyst},{' '}
      <time dateTime={decidedAt}>{formatMoment(decidedAt)}</time>
      <span className="quiet"> {about}</span>
      {signed && (
        <span>
          {' '}
          Signed by {signed.person}, {formatMoment(signed.markedAt)}.
        </span>
      )}
      {withdrawn && (
        <strong>
          {' '}
          Withdrawn by {withdrawn.person}, {formatMoment(withdrawn.markedAt)}
          {withdrawn.reason === undefined ? '.' : `: ${withdrawn.reason}`}
        </strong>
      )}
      <br />
      {reason}{' '}
    </>
  );
}

function canSign({ signed, withdrawn, analyst: by }: Ruling, analyst: string): boolean {
  const name = analyst.trim().toLowerCase();
  return !signed && !withdrawn && name !== '' && name !== by.trim().toLowerCase();
}

function nameResult(ruledId: number | null, storedId: number | null, isShown: boolean): string {
  if (ruledId === null) return 'before any result was stored';
  if (ruledId !== storedId) return 'on an earlier result';
  return isShown ? 'on the result shown' : 'on the stored result';
}
