import { ActionIcon } from '@mantine/core';
import { IconArrowBackUp, IconCheck, IconPlus, IconX } from '@tabler/icons-react';
import { memo } from 'react';
import { NumberField, PlaneMark } from '../parts/index.ts';
import { refusalsOf, useBench, useView } from '../state/index.ts';
import { formatSignificant, namePlane } from '../words/index.ts';
import { FREQUENCY_LIMITS } from './numberLimits.ts';
import { isFoundElsewhere, MODE_NUMBERS, type PickRow } from './pickRows.ts';
import { explainPick, Traced } from './provenance/index.ts';
import { ResidualBar } from './ResidualBar.tsx';
import { nameMode, type PickCommands, type PickTarget } from './usePicks.ts';

const STATE_WORDS: Record<PickRow['state'], string> = {
  none: 'no pick',
  proposed: 'proposed',
  confirmed: 'by analyst',
  rejected: 'none here',
};

const FREQUENCY_DIGITS = 4;
const SD_DECIMALS = 4;

type PicksPanelProps = {
  rows: readonly PickRow[];
  commands: PickCommands;
  waiting: boolean;
  isOvertaken: boolean;
};

/** Every pick as a row: measured, predicted, and all that can be done to it by keyboard or a typed number. */
export function PicksPanel({ rows, commands, waiting, isOvertaken }: PicksPanelProps) {
  return (
    <section
      className={isOvertaken ? 'panel picks-panel is-overtaken' : 'panel picks-panel'}
      aria-labelledby="picks-title"
      aria-busy={waiting}
    >
      <table className="picks-table">
        <thead>
          <tr>
            <th scope="col" colSpan={2}>
              <h2 id="picks-title">Mode picks</h2>
            </th>
            <th scope="col">Measured, Hz</th>
            <th scope="col" className="is-number" title="Standard deviation of what was measured">
              ± sd
            </th>
            <th scope="col" className="is-number" title="By the fitted stem and root, in Hz">
              Predicted
            </th>
            <th
              scope="col"
              className="is-number"
              title="Measured less predicted, in standard deviations of measurement and model together"
            >
              Off by, sd
            </th>
            <th scope="col" className="is-number" title="Damping ratio: how fast the mode dies away">
              Damping
            </th>
            <th scope="col">{waiting ? 'fitting anew' : 'State'}</th>
            <th scope="col">
              <span className="visually-hidden">Commands</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <PickTableRow key={`${row.plane}-${row.number}`} row={row} commands={commands} />
          ))}
        </tbody>
      </table>
      <RefusedPeaks rows={rows} commands={commands} />
    </section>
  );
}

/** Peaks that the analyst refused: their numbers are free, and each can be let in again. */
function RefusedPeaks({ rows, commands }: Pick<PicksPanelProps, 'rows' | 'commands'>) {
  const refusals = refusalsOf(useBench().choices.decisions);
  if (refusals.length === 0) return null;
  const nameOf = (plane: number) =>
    namePlane(plane, rows.find((row) => row.plane === plane)?.azimuthDeg ?? 0);
  return (
    <ul className="refused-peaks" aria-label="Refused peaks">
      {refusals.map((refusal) => {
        const words = `${formatSignificant(refusal.frequencyHz, FREQUENCY_DIGITS)} Hz, ${nameOf(refusal.plane)}`;
        return (
          <li key={words}>
            refused: {words}
            <Command label={`No longer refuse ${words}`} onClick={() => commands.admit(refusal)}>
              <IconArrowBackUp size={15} />
            </Command>
          </li>
        );
      })}
    </ul>
  );
}

type PickTableRowProps = { row: PickRow; commands: PickCommands };

/** Of all rows, a dragged pick changes its own; the others wait for the answer. */
const PickTableRow = memo(function PickTableRow({ row, commands }: PickTableRowProps) {
  const { placing } = useView().view;
  const name = nameMode(row);
  const shownHz = row.usedHz ?? row.frequencyHz;
  const isPlacing = placing?.plane === row.plane && placing.number === row.number;
  return (
    <tr className={`is-${row.state}`} title={row.doubt?.why ?? row.reason}>
      <th scope="row">
        <PlaneMark plane={row.plane} hollow={row.state !== 'confirmed'} size={13} />{' '}
        <span className="visually-hidden">{namePlane(row.plane, row.azimuthDeg)}</span>
        <span aria-hidden>{namePlane(row.plane, row.azimuthDeg).replace('plane ', '')}</span>
      </th>
      <td>
        <select
          className="mode-select"
          aria-label={`Number of ${name}`}
          value={row.number}
          disabled={row.frequencyHz === null}
          onChange={(event) => commands.renumber(row, Number(event.currentTarget.value))}
        >
          {MODE_NUMBERS.map((number) => (
            <option key={number} value={number}>
              {number}
            </option>
          ))}
        </select>
      </td>
      <td>
        <NumberField
          label={`Frequency of ${name}, Hz`}
          value={shownHz === null ? '' : formatSignificant(shownHz, FREQUENCY_DIGITS)}
          placeholder="type Hz"
          limits={FREQUENCY_LIMITS}
          onCommit={(value) => commands.place(row, value)}
        />
      </td>
      <td className="is-number">
        <Traced explanation={explainPick('frequency', row)}>
          {row.sdHz === null ? '' : row.sdHz.toFixed(SD_DECIMALS)}
        </Traced>
      </td>
      <td className="is-number">
        <Traced explanation={explainPick('predicted', row)}>
          {row.predictedHz === null ? '' : formatSignificant(row.predictedHz, FREQUENCY_DIGITS)}
        </Traced>
      </td>
      <td className="is-number residual">
        {row.residual !== null && <ResidualBar residual={row.residual} />}
        <Traced explanation={explainPick('residual', row)}>
          {row.residual === null ? '' : signed(row.residual)}
        </Traced>
      </td>
      <td className="is-number">
        <Traced explanation={explainPick('damping', row)}>
          {row.dampingRatio === null ? '' : `${(row.dampingRatio * 100).toFixed(1)} %`}
        </Traced>
      </td>
      <td className="pick-state">{isPlacing ? 'click spectrum' : <State row={row} />}</td>
      <td className="pick-commands">
        <RowCommands
          plane={row.plane}
          azimuthDeg={row.azimuthDeg}
          number={row.number}
          state={row.state}
          hasPick={row.frequencyHz !== null}
          isPlacing={isPlacing}
          commands={commands}
        />
      </td>
    </tr>
  );
});

type RowCommandsProps = PickTarget & {
  state: PickRow['state'];
  hasPick: boolean;
  isPlacing: boolean;
  commands: PickCommands;
};

/** The same at every place of the pick. */
const RowCommands = memo(function RowCommands(props: RowCommandsProps) {
  const { plane, azimuthDeg, number, state, hasPick, isPlacing, commands } = props;
  const { look } = useView();
  const target = { plane, azimuthDeg, number };
  const name = nameMode(target);
  return (
    <>
      {hasPick ? (
        <Command
          label={`Confirm ${name}`}
          disabled={state === 'confirmed'}
          onClick={() => commands.confirm(target)}
        >
          <IconCheck size={15} />
        </Command>
      ) : (
        <Command
          label={isPlacing ? `Stop adding ${name}` : `Add ${name} in the spectrum`}
          onClick={() => look({ placing: isPlacing ? null : { plane, number } })}
        >
          {isPlacing ? <IconX size={15} /> : <IconPlus size={15} />}
        </Command>
      )}
      <Command
        label={`Refuse the peak of ${name}`}
        disabled={!hasPick}
        onClick={() => commands.refuse(target)}
      >
        <IconX size={15} />
      </Command>
      <Command
        label={`Leave ${name} to the program`}
        disabled={state === 'proposed' || state === 'none'}
        onClick={() => commands.release(target)}
      >
        <IconArrowBackUp size={15} />
      </Command>
    </>
  );
});

function Command(props: {
  label: string;
  disabled?: boolean;
  onClick: () => void;
  children: React.ReactNode;
}) {
  return (
    <ActionIcon
      variant="subtle"
      color="gray"
      size={24}
      aria-label={props.label}
      title={props.label}
      disabled={props.disabled ?? false}
      onClick={props.onClick}
    >
      {props.children}
    </ActionIcon>
  );
}

/** Whose pick it is, and what speaks against it: in few words, the whole of it for who points there or listens. */
function State({ row }: { row: PickRow }) {
  if (row.isAwaited) return 'fitting anew';
  if (!row.doubt) return sayState(row);
  return (
    <>
      {sayState(row)}: <strong className="pick-doubt">{row.doubt.words}</strong>
      <span className="visually-hidden">. {row.doubt.why}</span>
    </>
  );
}

function sayState(row: PickRow): string {
  if (!isFoundElsewhere(row)) return STATE_WORDS[row.state];
  const [set, found] = [row.frequencyHz, row.usedHz].map((hz) => formatSignificant(hz, FREQUENCY_DIGITS));
  return `set at ${set}, found at ${found}`;
}

function signed(value: number): string {
  const size = Math.abs(value).toFixed(1);
  if (Number(size) === 0) return '0.0';
  return `${value < 0 ? '−' : '+'}${size}`;
}
