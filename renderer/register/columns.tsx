import type { ReactNode } from 'react';
import type { RegisterQuery, RegisterRow } from '../types.ts';
import {
  describeSpecies,
  formatChance,
  formatEstimate,
  formatMedian,
  formatSignificant,
} from '../words/index.ts';
import { MarginScale, MarginStrip } from './MarginStrip.tsx';
import { tellNeed } from './tellNeed.ts';

const NM_PER_KNM = 1e3;
const PA_PER_GPA = 1e9;

export type Column = {
  key: RegisterQuery['sort']['key'] | null;
  title: string;
  unit?: string;
  head?: ReactNode;
  /** What the title stands for, where it is a letter or a word of ours. */
  help?: string;
  number?: boolean;
  /** Wanted on a wide screen only. */
  wide?: boolean;
  /** Of the table's width, in parts. */
  parts: number;
  cell: (row: RegisterRow) => ReactNode;
};

const NOTHING = (
  <span className="quiet">
    <span aria-hidden>–</span>
    <span className="visually-hidden">none</span>
  </span>
);

const figure = (value: number | null | undefined, per = 1) =>
  value === null || value === undefined ? NOTHING : formatSignificant(value / per);

const chance = (value: number | null) => (value === null ? NOTHING : formatChance(value));

/** Columns behind the pole's name, which is a column of its own kind. */
export const COLUMNS: readonly Column[] = [
  {
    key: null,
    title: 'Kind',
    wide: true,
    parts: 25,
    cell: (row) => (
      <span className="quiet">
        {describeSpecies(row.species)}
        {row.classCode && `, class ${row.classCode}`}, {formatSignificant(row.lengthM)} m
      </span>
    ),
  },
  { key: 'date', title: 'Visit', parts: 9, cell: (row) => row.date },
  { key: 'need', title: 'Look because', parts: 26, cell: (row) => <Need row={row} /> },
  { key: 'verdict', title: 'Verdict', wide: true, parts: 10, cell: (row) => row.verdict },
  {
    key: 'f1',
    title: 'f1',
    help: 'Natural frequency of mode 1, mean over the planes',
    unit: 'Hz',
    number: true,
    wide: true,
    parts: 5.5,
    cell: (row) => figure(row.frequenciesHz[0]),
  },
  {
    key: 'f2',
    title: 'f2',
    help: 'Natural frequency of mode 2, mean over the planes',
    unit: 'Hz',
    number: true,
    wide: true,
    parts: 5.5,
    cell: (row) => figure(row.frequenciesHz[1]),
  },
  {
    key: 'f3',
    title: 'f3',
    help: 'Natural frequency of mode 3, mean over the planes',
    unit: 'Hz',
    number: true,
    wide: true,
    parts: 5.5,
    cell: (row) => figure(row.frequenciesHz[2]),
  },
  {
    key: 'modulus',
    title: 'E',
    help: 'Modulus of elasticity of the stem: its stiffness',
    unit: 'GPa',
    number: true,
    parts: 5,
    cell: (row) => (row.modulusIntervalPa ? formatMedian(row.modulusIntervalPa, PA_PER_GPA) : NOTHING),
  },
  {
    key: 'fixity',
    title: 'Fixity',
    help: 'How firmly the ground holds the pole: 0 is loose, 20 and more nearly rigid',
    number: true,
    parts: 5.5,
    cell: (row) => (row.fixityInterval ? formatMedian(row.fixityInterval) : NOTHING),
  },
  {
    key: 'capacity',
    title: 'Capacity if sound',
    help: 'Bending moment at ground line that the pole bears if its section is sound there, with the 90 % interval',
    unit: 'kN·m',
    number: true,
    parts: 14,
    cell: (row) => (row.capacityNm ? formatEstimate(row.capacityNm, '', NM_PER_KNM) : NOTHING),
  },
  {
    key: null,
    title: 'Ground line',
    help: 'Whether the section was inspected there; frequencies hardly show decay at ground line',
    parts: 10,
    cell: (row) => <GroundLine row={row} />,
  },
  {
    key: 'requirement',
    title: 'Required',
    unit: 'kN·m',
    number: true,
    parts: 8,
    cell: (row) => figure(row.requirementNm, NM_PER_KNM),
  },
  {
    key: 'chance',
    title: 'Chance below required',
    help: 'Chance that the capacity is below the requirement',
    number: true,
    parts: 9.5,
    cell: (row) => chance(row.chanceBelow),
  },
  {
    key: 'threshold',
    title: 'Threshold',
    help: 'The requirement times the factor of its rule in service',
    unit: 'kN·m',
    number: true,
    wide: true,
    parts: 8.5,
    cell: (row) => figure(row.thresholdNm, NM_PER_KNM),
  },
  {
    key: 'thresholdChance',
    title: 'Chance below threshold',
    help: 'Chance that the capacity is below the threshold in service: the requirement times the factor of its rule',
    number: true,
    parts: 9.5,
    cell: (row) => chance(row.chanceBelowThreshold),
  },
  {
    key: null,
    title: 'Capacity as a multiple of required',
    head: <MarginScale />,
    parts: 7.5,
    cell: (row) => <MarginStrip row={row} />,
  },
  { key: 'ruling', title: 'Ruling', parts: 8, cell: (row) => row.ruling?.decision ?? NOTHING },
];

/** Whether anybody looked at the section that the capacity stands for. */
function GroundLine({ row }: { row: RegisterRow }) {
  return row.isGroundLineInspected ? (
    <span title="Bored at ground line; the section is reduced to sound wood">bored</span>
  ) : (
    <span
      className="two-lines"
      title="The section at ground line was not inspected: sound, bore and excavate"
    >
      not inspected
    </span>
  );
}

function Need({ row }: { row: RegisterRow }) {
  const words = tellNeed(row);
  return (
    <span className="two-lines" title={words}>
      {words}
    </span>
  );
}
