import { type BrokenPole, breakPole } from './breakTests.ts';

const POLES = 20;
const SERIES = 'F';

const METRE_PER_FOOT = 0.3048;
const METRE_PER_INCH = 0.0254;
const NEWTON_PER_KIP = 4448.2216152605;
const PA_PER_MILLION_PSI = 6.894757293168e9;

const HEADER =
  'Pole No.;Timber;Preservative;Age (years);Overall length (ft);Depth in ground (ft);Circ. at ground-line [in];Top circ. (in);' +
  'Load below top (ft);Max load (kip);Height of failure (ft);MOE (10^6 psi);MOE error (%);1st natural frequency (Hz);Moisture content (%);Remarks';

/** What is wrong in a row, put into it by the place of its cell, and why. */
type Fault = {
  readonly index: number;
  readonly cell: number;
  readonly written: string;
  readonly why: string;
};

const FAULTS: readonly Fault[] = [
  { index: 2, cell: 9, written: '3.1', why: 'decimal point among commas' },
  { index: 5, cell: 6, written: '', why: 'girth not measured' },
  { index: 8, cell: 9, written: 'see photo', why: 'no figure' },
  { index: 11, cell: 7, written: '55', why: 'tip in cm' },
  { index: 13, cell: 9, written: '13,2', why: 'load in kN' },
  { index: 15, cell: 0, written: 'KF-04', why: 'number given twice' },
  { index: 17, cell: 10, written: '41', why: 'broke above the load' },
  { index: 18, cell: 11, written: 'NaN', why: 'export of a failed test' },
];

/**
 * Makes the table of a second invented series as another crew might hand it over: feet, inches, kips, decimal commas and semicolons,
 * and eight rows that are wrong, each as its last cell says.
 */
export function makeForeignBreakTests(): string {
  const rows = Array.from({ length: POLES }, (_, index) => {
    const cells = writeCells(breakPole('KF', SERIES, index));
    const fault = FAULTS.find((one) => one.index === index);
    if (fault) cells[fault.cell] = fault.written;
    return [...cells, fault ? `wrong on purpose: ${fault.why}` : ''].join(';');
  });
  return `${['# Invented: no such poles exist', HEADER, ...rows].join('\r\n')}\r\n`;
}

function writeCells(pole: BrokenPole): string[] {
  const belowTopM = pole.lengthM - pole.settingDepthM - pole.loadHeightM;
  return [
    pole.id,
    pole.species.replaceAll('-', ' '),
    pole.treatment,
    pole.ageYears.toFixed(0),
    (pole.lengthM / METRE_PER_FOOT).toFixed(0),
    (pole.settingDepthM / METRE_PER_FOOT).toFixed(1),
    (pole.groundlineCircumferenceM / METRE_PER_INCH).toFixed(1),
    (pole.tipCircumferenceM / METRE_PER_INCH).toFixed(1),
    (belowTopM / METRE_PER_FOOT).toFixed(1),
    (pole.breakLoadN / NEWTON_PER_KIP).toFixed(2),
    (pole.breakHeightM / METRE_PER_FOOT).toFixed(1),
    (pole.modulusPa / PA_PER_MILLION_PSI).toFixed(2),
    '5',
    pole.frequenciesHz[0]!.toFixed(2),
    pole.moisturePercent.toFixed(0),
  ].map((cell) => cell.replace('.', ','));
}
