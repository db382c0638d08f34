import {
  type CalibrationDocument,
  PREDICTOR_INFO,
  type PredictorName,
  readBack,
} from '../../strength/index.ts';
import type { CallResponse } from '../contract.ts';

type Spans = CallResponse<'calibration.overview'>['calibrations'][number]['range'];

/** What the tests of a relation spanned, in the units that people read: its predictors, then conditions that it leaves out. */
export function describeSpans({ spec, range }: Pick<CalibrationDocument, 'spec' | 'range'>): Spans {
  const show = (name: PredictorName, min: number, max: number) => {
    const { label, unit, unitInSi } = PREDICTOR_INFO[name];
    return { name, label, unit, min: min / unitInSi, max: max / unitInSi };
  };
  return [
    ...range.predictors.map(({ name, min, max }) =>
      show(name, readBack(name, spec.form, min), readBack(name, spec.form, max)),
    ),
    ...range.conditions.map(({ name, min, max }) => show(name, min, max)),
  ];
}
