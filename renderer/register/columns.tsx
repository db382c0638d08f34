import type { ReactNode } from 'react';
import type { RegisterQuery, RegisterRow } from '../types.ts';
import { describeSpecies, formatChance, formatEstimate, formatSignificant } from '../words/index.ts';
import { MarginScale, MarginStrip } from './MarginStrip.tsx';
import { tellNeed } from './tellNeed.ts';

const NM_PER_KNM = 1e3;
const PA_PER_GPA = 1e9;

export type Column = {
  key: RegisterQuery['sort']['key'] | null;
  title: string;
  unit?: string;
  head?: ReactNode;
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
    parts: 17,
    cell: (row) => (
      <span className="quiet">
        {describeSpecies(row.species)}
        {row.classCode && `, class ${row.classCode}`}, {formatSignificant(row.lengthM)} m
      </span>
    ),
  },
  { key: 'date', title: 'Visit', parts: 9, cell: (row) => row.date },
  { key: 'need', title: 'Look because', parts: 22, cell: (row) => <Need row={row} /> },
  { key: 'verdict', title: 'Verdict', wide: true, parts: 8, cell: (row) => row.verdict },
  {
    key: 'f1',
    title: 'f1',
    unit: 'Hz',
    number: true,
    wide: true,
    parts: 4.5,
    cell: (row) => figure(row.frequenciesHz[0]),
  },
  {
    key: 'f2',
    title: 'f2',
    unit: 'Hz',
    number: true,
    wide: true,
    parts: 4,
    cell: (row) => figure(row.frequenciesHz[1]),
  },
  {
    key: 'f3',
    title: 'f3',
    unit: 'Hz',
    number: true,
    wide: true,
    parts: 4,
    cell: (row) => figure(row.frequenciesHz[2]),
  },
  {
    key: 'modulus',
    title: 'E',
    unit: 'GPa',
    number: true,
    parts: 5,
    cell: (row) => figure(row.modulusPa, PA_PER_GPA),
  },
  { key: 'fixity', title: 'Fixity', number: true, parts: 5.5, cell: (row) => figure(row.fixity) },
  {
    key: 'capacity',
    title: 'Capacity if sound',
    unit: 'kN·m',
    number: true,
    parts: 11.5,
    cell: (row) => (row.capacityNm ? formatEstimate(row.capacityNm, '', NM_PER_KNM) : NOTHING),
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
    title: 'Chance below it',
    number: true,
    parts: 8.5,
    cell: (row) => chance(row.chanceBelow),
  },
  {
    key: 'threshold',
    title: 'Threshold',
    unit: 'kN·m',
    number: true,
    parts: 8.5,
    cell: (row) => figure(row.thresholdNm, NM_PER_KNM),
  },
  {
    key: 'thresholdChance',
    title: 'Chance below it',
    number: true,
    parts: 8.5,
    cell: (row) => chance(row.chanceBelowThreshold),
  },
  {
    key: null,
    title: 'Capacity as a multiple of required',
    head: <MarginScale />,
    parts: 9,
    cell: (row) => <MarginStrip row={row} />,
  },
  { key: 'ruling', title: 'Ruling', parts: 10, cell: (row) => row.ruling?.decision ?? NOTHING },
];

function Need({ row }: { row: RegisterRow }) {
  const words = tellNeed(row);
  return (
    <span className="clip" title={words}>
      {words}
    </span>
  );
}
