import { formatEntered, UNITS } from '../../formatNumbers.ts';
import { drawPart, drawRecord, drawTable, unhyphenate } from '../blocks.ts';
import { type Markup, markup } from '../markup.ts';
import type { ReportInput } from '../reportInput.ts';

const COORDINATE_DECIMALS = 5;
const NOT_STATED = 'not stated';

/** The pole's record and what was measured on it, as entered. */
export function writePole({ visit, assessment }: ReportInput): Markup {
  const { pole, measured } = visit;
  const hasPosition = pole.latitude != null && pole.longitude != null;
  return drawPart('Pole and measurements', [
    markup`<div class="columns">${drawRecord('Pole record', [
      ['Pole', pole.id],
      ['Species', unhyphenate(pole.species)],
      ['Treatment', pole.treatment ?? NOT_STATED],
      ['Class', pole.classCode ?? NOT_STATED],
      ['Length, butt to tip', formatEntered(pole.lengthM, UNITS.metre)],
      ['Set in', pole.setYear ?? NOT_STATED],
      ['Butt to tag', formatEntered(pole.buttToTagM, UNITS.metre)],
      [
        'Position',
        hasPosition
          ? `${pole.latitude!.toFixed(COORDINATE_DECIMALS)}°, ${pole.longitude!.toFixed(COORDINATE_DECIMALS)}°`
          : NOT_STATED,
      ],
      ['Visit file', assessment.visit],
      ...measured.circumferences.map((entry): [string, string] => [
        `Circumference at ${formatEntered(entry.heightM, UNITS.metre)}`,
        formatEntered(entry.circumferenceM, UNITS.metre),
      ]),
    ])}${drawRecord('Measured on the visit', [
      ['Date', measured.date],
      ['Circumference at the top', formatEntered(measured.topCircumferenceM, UNITS.metre)],
      ['Tag above ground', formatEntered(measured.tagHeightM, UNITS.metre)],
      ['Sensor height', formatEntered(measured.sensorHeightM, UNITS.metre)],
      ['Sensor mass', formatEntered(measured.sensorMassKg, UNITS.kilogram)],
      ['Soil', unhyphenate(measured.soil)],
      ['Moisture', formatEntered(measured.moisturePercent, { symbol: '%', scale: 1 })],
      ['Temperature', formatEntered(measured.temperatureC, { symbol: '°C', scale: 1 })],
      ['Line’s azimuth', formatEntered(measured.lineAzimuthDeg, { symbol: '°', scale: 1 })],
      ['Density', formatEntered(measured.densityKgPerM3, UNITS.kilogramPerCubicMetre)],
      ['Least sound shell', formatEntered(measured.shellThicknessM, UNITS.millimetre)],
    ])}</div>`,
    drawTable(
      'Cables and attachments',
      [
        { title: 'Kind' },
        { title: 'Count', isNumber: true },
        { title: 'Height', isNumber: true },
        { title: 'Azimuth', isNumber: true },
        { title: 'Stiffness along it', isNumber: true },
        { title: 'Mass', isNumber: true },
      ],
      [
        ...measured.cables.map((cable) => [
          `cable: ${cable.kind}`,
          cable.count,
          formatEntered(cable.heightM, UNITS.metre),
          `${cable.azimuthDeg}°`,
          formatEntered(cable.lateralStiffnessNPerM, UNITS.kilonewtonPerMetre),
          formatEntered(cable.massKg, UNITS.kilogram),
        ]),
        ...measured.attachments.map((attachment) => [
          attachment.kind ?? 'attachment',
          1,
          formatEntered(attachment.heightM, UNITS.metre),
          '',
          '',
          formatEntered(attachment.massKg, UNITS.kilogram),
        ]),
      ],
      'none stated.',
    ),
  ]);
}
