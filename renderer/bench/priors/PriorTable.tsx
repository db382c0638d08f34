import './priors.css';
import { Button, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { displayUnitOf, rangeOfPrior } from '../../../core/workspace/contract.ts';
import { decide, forgetTyped, priorDecisionFor, useBench, useTyped, withdraw } from '../../state/index.ts';
import type { Assessment, Estimate, Prior, PriorDecision } from '../../types.ts';
import { formatEstimate, formatSignificant } from '../../words/index.ts';
import { PriorPopover, ReasonFields } from './PriorPopover.tsx';
import { type EditableName, editableName, priorOf } from './priorEdits.ts';
import { RangeStrip } from './RangeStrip.tsx';
import { readRange, type WrongEnds } from './readRange.ts';
import { useAgreement } from './useAgreement.ts';

/** What is taken as known before the recordings, each with its source; those that can be set are set here, with a reason. */
export function PriorTable({ assessment, lengthM }: { assessment: Assessment; lengthM: number }) {
  return (
    <table className="prior-table">
      <caption>Taken as known before recording: median (90 % range), beside what came out</caption>
      <thead>
        <tr>
          <th scope="col">Quantity</th>
          <th scope="col">Before</th>
          <th scope="col">After</th>
          <th scope="col">
            <span className="visually-hidden">Before and after as bars</span>
          </th>
          <th scope="col">
            <span className="visually-hidden">Change</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {assessment.priors.filter(isOfOneQuantity).map((prior) => (
          <PriorRow key={prior.name} prior={prior} after={posteriorOf(prior, assessment)} lengthM={lengthM} />
        ))}
      </tbody>
    </table>
  );
}

/** Shares of root models have a table of their own. */
function isOfOneQuantity({ setBy }: Prior): boolean {
  return !setBy?.startsWith('options.priors.rootModels.');
}

/** What the recordings left of a quantity that has a prior, where the result tells it. */
function posteriorOf({ setBy }: Prior, { stem, root }: Assessment): Estimate | null {
  switch (setBy) {
    case 'options.priors.modulusPa':
      return stem?.modulusPa ?? null;
    case 'options.priors.densityKgPerM3':
      return stem?.densityKgPerM3 ?? null;
    case 'options.priors.soilModulus':
      return root?.soilModulus ?? null;
    case 'options.priors.rotationalStiffnessNmPerRad':
      return root?.model === 'spring' ? root.rotationalStiffnessNmPerRad : null;
    case 'options.priors.settingDepthM':
      return root?.settingDepthM ?? null;
    default:
      return null;
  }
}

function PriorRow(props: { prior: Prior; after: Estimate | null; lengthM: number }) {
  const { prior, after, lengthM } = props;
  const name = editableName(prior);
  const { choices } = useBench();
  const decision = name && priorDecisionFor(choices.decisions, name);
  const { symbol: unit, scale: perUnit } = displayUnitOf(prior.unit);
  const shown = decision ? rangeOfPrior(decision.prior) : prior;
  return (
    <tr className={decision ? 'is-set' : undefined}>
      <th scope="row">{prior.name}</th>
      <td>
        {formatEstimate({ value: shown.median, low: shown.low, high: shown.high }, unit, perUnit)}
        <span className="quiet prior-source">{decision ? `set here: ${decision.reason}` : prior.source}</span>
      </td>
      <td>{after ? formatEstimate(after, unit, perUnit) : <span className="quiet">not told</span>}</td>
      <td>{after && <RangeStrip before={shown} after={after} />}</td>
      <td>{name && <PriorEditor name={name} prior={prior} lengthM={lengthM} />}</td>
    </tr>
  );
}

type Editing = { name: EditableName; prior: Prior; lengthM: number };

function PriorEditor({ name, prior, lengthM }: Editing) {
  const { choices, change } = useBench();
  const decision = priorDecisionFor(choices.decisions, name);
  return (
    <>
      <PriorPopover words="set" label={`Set ${prior.name}`}>
        {(close) => (
          <PriorForm
            name={name}
            prior={prior}
            lengthM={lengthM}
            onSet={(set) => {
              change({ decisions: decide(choices.decisions, set) }, `prior of ${prior.name}`);
              close();
            }}
          />
        )}
      </PriorPopover>
      {decision && (
        <Button
          size="compact-xs"
          variant="default"
          aria-label={`Back to the tabulated ${prior.name}`}
          onClick={() =>
            change(
              { decisions: withdraw(choices.decisions, { kind: 'prior', ...decision }) },
              `prior of ${prior.name} as tabulated`,
            )
          }
        >
          back
        </Button>
      )}
    </>
  );
}

function PriorForm(props: Editing & { onSet: (decision: PriorDecision) => void }) {
  const { name, prior, lengthM, onSet } = props;
  const { visitId, choices } = useBench();
  const decision = priorDecisionFor(choices.decisions, name);
  const { symbol: unit, scale: perUnit } = displayUnitOf(prior.unit);
  const start = decision ? rangeOfPrior(decision.prior) : prior;
  // what was typed over one decision is not taken for a change of another, or of none
  const form = `prior ${visitId} ${name} over ${JSON.stringify(decision ?? null)}`;
  const [low, setLow] = useTyped(form, 'low', formatSignificant(start.low / perUnit));
  const [high, setHigh] = useTyped(form, 'high', formatSignificant(start.high / perUnit));
  const [reason, setReason] = useTyped(form, 'reason', decision?.reason ?? '');
  const [wrong, setWrong] = useState<WrongEnds & { reason?: string }>({});
  const agreement = useAgreement((agreed) => {
    forgetTyped(form);
    onSet(agreed);
  });

  function submit(event: FormEvent): void {
    event.preventDefault();
    const read = readRange(name, { low, high }, { symbol: unit, scale: perUnit }, lengthM);
    const because = reason.trim();
    const missing = because === '' ? { reason: 'Give the reason' } : {};
    if ('wrong' in read || because === '') {
      setWrong({ ...('wrong' in read && read.wrong), ...missing });
      agreement.ask(null);
    } else {
      setWrong({});
      agreement.ask({ kind: 'prior', prior: priorOf(name, read.range), reason: because });
    }
  }

  return (
    <form className="prior-form" onSubmit={submit} noValidate>
      <strong>
        {prior.name}
        {unit && `, ${unit}`}: nine in ten lie
      </strong>
      <TextInput
        size="xs"
        label="from"
        value={low}
        error={wrong.low}
        onChange={(event) => setLow(event.currentTarget.value)}
      />
      <TextInput
        size="xs"
        label="to"
        value={high}
        error={wrong.high}
        onChange={(event) => setHigh(event.currentTarget.value)}
      />
      <ReasonFields
        reason={reason}
        wrong={{ numbers: agreement.refusal, reason: wrong.reason }}
        waiting={agreement.waiting}
        onChange={setReason}
      />
    </form>
  );
}
