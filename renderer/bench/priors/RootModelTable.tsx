import { Button, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { readNumber } from '../../parts/index.ts';
import { decide, forgetTyped, priorDecisionFor, useBench, useTyped, withdraw } from '../../state/index.ts';
import type { Assessment, RootShares } from '../../types.ts';
import { formatChance, formatShare } from '../../words/index.ts';
import { Traced } from '../provenance/index.ts';
import { explainRootModel } from './explainRootModel.ts';
import { PriorPopover, ReasonFields } from './PriorPopover.tsx';
import { normalised, ROOT_MODELS, sharesOf, sourceOfShares } from './rootShares.ts';

/** Which models of the root compete, how much each was believed before the recordings, and how much after. */
export function RootModelTable({ assessment }: { assessment: Assessment }) {
  const { choices, change } = useBench();
  const decision = priorDecisionFor(choices.decisions, 'rootModels');
  const shares = decision ? normalised(decision.prior) : sharesOf(assessment);
  return (
    <>
      <table className="prior-table">
        <caption>Root models that compete, with the chance of each</caption>
        <thead>
          <tr>
            <th scope="col">Model</th>
            <th scope="col">Before</th>
            <th scope="col">After</th>
          </tr>
        </thead>
        <tbody>
          {ROOT_MODELS.map(({ model, words }) => {
            const after = assessment.root?.models.find((other) => other.model === model)?.probability;
            return (
              <tr key={model} className={decision ? 'is-set' : undefined}>
                <th scope="row">
                  {model}
                  <span className="quiet prior-source">{words}</span>
                </th>
                <td>{shares[model] === 0 ? 'left out' : formatShare(shares[model])}</td>
                <td>
                  {after === undefined || shares[model] === 0 ? (
                    <span className="quiet">not told</span>
                  ) : (
                    <Traced explanation={explainRootModel(model, shares[model], after, assessment)}>
                      {formatChance(after)}
                    </Traced>
                  )}
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <p className="quiet prior-source">
        {decision ? `set here: ${decision.reason}` : sourceOfShares(assessment)}
      </p>
      <div className="prior-actions">
        <SharesEditor shares={shares} reason={decision?.reason ?? ''} />
        {decision && (
          <Button
            size="compact-xs"
            variant="default"
            onClick={() =>
              change(
                { decisions: withdraw(choices.decisions, { kind: 'prior', ...decision }) },
                'root models as usual',
              )
            }
          >
            Back to the usual root models
          </Button>
        )}
      </div>
    </>
  );
}

function SharesEditor({ shares, reason }: { shares: RootShares; reason: string }) {
  const { choices, change } = useBench();
  return (
    <PriorPopover words="Set root models">
      {(close) => (
        <SharesForm
          shares={shares}
          reason={reason}
          onSet={(set, because) => {
            change(
              {
                decisions: decide(choices.decisions, {
                  kind: 'prior',
                  prior: { name: 'rootModels', ...set },
                  reason: because,
                }),
              },
              'root models that compete',
            );
            close();
          }}
        />
      )}
    </PriorPopover>
  );
}

const PERCENT = { least: 0, most: 100, unit: '' };

function SharesForm(props: {
  shares: RootShares;
  reason: string;
  onSet: (shares: RootShares, reason: string) => void;
}) {
  // as in PriorTable: what was typed belongs to the decision that it was typed over
  const form = `root models ${useBench().visitId} over ${JSON.stringify([props.shares, props.reason])}`;
  const [typed, setTyped] = useTyped(
    form,
    'shares',
    ROOT_MODELS.map(({ model }) => String(Math.round(100 * props.shares[model]))),
  );
  const [reason, setReason] = useTyped(form, 'reason', props.reason);
  const [wrong, setWrong] = useState<{ shares?: (string | null)[]; numbers?: string; reason?: string }>({});

  function submit(event: FormEvent): void {
    event.preventDefault();
    const read = typed.map((text) => readNumber(text, PERCENT));
    const [bedded, coupled, spring] = read.map((share) =>
      'wrong' in share ? Number.NaN : share.number / PERCENT.most,
    ) as [number, number, number];
    const sum = bedded + coupled + spring;
    const because = reason.trim();
    if (sum > 0 && because !== '') {
      forgetTyped(form);
      props.onSet({ bedded, coupled, spring }, because);
      return;
    }
    setWrong({
      shares: read.map((share) => ('wrong' in share ? share.wrong : null)),
      ...(sum === 0 && { numbers: 'At least one model must be possible' }),
      ...(because === '' && { reason: 'Give the reason' }),
    });
  }

  return (
    <form className="prior-form" onSubmit={submit} noValidate>
      <strong>Of a hundred poles like this one, how many stand so; 0 leaves a model out</strong>
      {ROOT_MODELS.map(({ model }, i) => (
        <TextInput
          key={model}
          size="xs"
          label={model}
          value={typed[i]}
          error={wrong.shares?.[i]}
          onChange={({ currentTarget: { value } }) => setTyped(typed.with(i, value))}
        />
      ))}
      <ReasonFields reason={reason} wrong={wrong} onChange={setReason} />
    </form>
  );
}
