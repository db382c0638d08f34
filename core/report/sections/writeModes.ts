import type { AssessedMode, Assessment } from '../../assessment.ts';
import { formatChance, formatMeasured, formatNumber, formatQuantity, UNITS } from '../../formatNumbers.ts';
import { namePlane } from '../../namePlane.ts';
import { drawPart, drawTable } from '../blocks.ts';
import { type Markup, markup } from '../markup.ts';
import { drawSpectrum } from '../plots/drawSpectrum.ts';
import { planeSymbol } from '../plots/planeMark.ts';
import type { ConcludedInput } from '../reportInput.ts';

const DIGITS_OF_FREQUENCY = 4;

/** Spectra with their picks, the modes, peaks that are no modes, and how peaks were numbered against the rival. */
export function writeModes({ assessment, spectra }: ConcludedInput): Markup {
  return drawPart('Spectra and modes', [
    spectra.map((spectrum) => drawSpectrum(spectrum, assessment.modes)),
    drawTable(
      'Modes',
      [
        { title: 'Plane' },
        { title: 'Mode', isNumber: true },
        { title: 'Measured, Hz', isNumber: true },
        { title: 'Predicted, Hz', isNumber: true },
        { title: 'Residual', isNumber: true },
        { title: 'Damping, %', isNumber: true },
        { title: 'Stray', isNumber: true },
        { title: 'Strikes', isNumber: true },
        { title: 'Source' },
      ],
      assessment.modes.map(writeMode),
      'none was identified.',
    ),
    markup`<p class="note">Measured: value ± standard deviation. Residual: measured less predicted, in joint standard deviations; beyond 2 wants a look. Predicted: by the fitted stem and root. Stray: chance that the pick is no mode of this pole.</p>`,
    tellReasons(assessment.modes),
    drawTable(
      'Assignment of peaks to modes',
      [
        { title: '' },
        { title: 'Probability', isNumber: true },
        { title: 'Frequencies and their mode numbers' },
      ],
      assessment.assignments.map((assignment, i) => [
        i === 0 ? 'in use' : `rival ${i}`,
        formatChance(assignment.probability),
        tellAssignment(assignment),
      ]),
      'no peaks were assigned.',
    ),
    drawTable(
      'Peaks that are no mode pick',
      [
        { title: 'Plane' },
        { title: 'Frequency', isNumber: true },
        { title: 'Prominence', isNumber: true },
        { title: 'Why not' },
      ],
      assessment.otherPeaks.map((peak) => [
        writePlane(peak.plane, peak.azimuthDeg),
        formatQuantity(peak.frequencyHz, UNITS.hertz, DIGITS_OF_FREQUENCY),
        `${formatNumber(peak.prominenceDb, 2)} dB`,
        peak.reason,
      ]),
      'none.',
    ),
  ]);
}

function writeMode(mode: AssessedMode) {
  return [
    writePlane(mode.plane, mode.azimuthDeg),
    mode.number,
    formatMeasured(mode.frequencyHz, UNITS.none),
    mode.predictedHz === null ? 'not fitted' : formatNumber(mode.predictedHz, DIGITS_OF_FREQUENCY),
    mode.residual === null ? '' : formatSigned(mode.residual),
    formatMeasured(mode.dampingRatio, { ...UNITS.percent, symbol: '' }),
    formatChance(mode.oddChance, ''),
    mode.strikes,
    mode.source === 'analyst' ? 'the analyst' : 'the program',
  ];
}

/** Sentences of their own: in a column beside nine of figures each would be a dozen lines high. */
function tellReasons(modes: readonly AssessedMode[]): Markup | null {
  const told = modes.filter(({ reason }) => reason !== '');
  if (told.length === 0) return null;
  return drawTable(
    'Why these picks',
    [{ title: 'Plane' }, { title: 'Mode', isNumber: true }, { title: 'Reason' }],
    told.map(({ plane, azimuthDeg, number, reason }) => [writePlane(plane, azimuthDeg), number, reason]),
    'nothing is told.',
  );
}

function writePlane(plane: number, azimuthDeg: number): Markup {
  return markup`<span class="whole">${planeSymbol(plane)} ${namePlane(plane, azimuthDeg)}</span>`;
}

function formatSigned(value: number): string {
  const text = Math.abs(value).toFixed(1);
  if (text === '0.0') return text;
  return `${value < 0 ? '−' : '+'}${text}`;
}

/** Planes in order, each with its peaks and the mode that each is held to be. */
function tellAssignment({ numbers }: Assessment['assignments'][number]): Markup {
  const planes = [...new Set(numbers.map(({ plane }) => plane))].sort((a, b) => a - b);
  const tellPeak = ({ frequencyHz, number }: (typeof numbers)[number]): string =>
    `${formatQuantity(frequencyHz, UNITS.hertz, DIGITS_OF_FREQUENCY)}: ${number === null ? 'no mode' : `mode ${number}`}`;
  return markup`${planes.map(
    (plane) =>
      markup`<p>${planeSymbol(plane)} plane ${plane + 1}: ${numbers
        .filter((peak) => peak.plane === plane)
        .map(tellPeak)
        .join('; ')}</p>`,
  )}`;
}
