import type { Calibration } from '../calibration.ts';
import { type CalibrationDocument, weaknessesOf } from './calibrationDocument.ts';
import { describeRelation } from './describeRelation.ts';
import { withhold } from './predictByLine.ts';
import { predictFromRelation } from './predictFromRelation.ts';
import { stiffnessPredictorOf } from './predictors.ts';
import { separateMeasurement } from './separateMeasurement.ts';
import { concernsEveryPole } from './weakness.ts';

/**
 * Makes a published relation a calibration of the chain: it predicts from the numbers of the document, without a fit, and says with every
 * prediction what speaks against it.
 */
export function calibrationFromDocument(document: CalibrationDocument): Calibration {
  const { name, number, author, note, publishedAt, spec, rows, dataSha256 } = document;
  const told = weaknessesOf(document)
    .filter(concernsEveryPole)
    .map(({ text }) => text);
  return {
    name,
    version: number,
    source:
      `${author}, ${publishedAt.slice(0, 10)}: ${rows.length} break tests, SHA-256 ${dataSha256}.` +
      (note === '' ? '' : ` ${note}`),
    followsModulus: !spec.predictors.some((predictor) => predictor.startsWith('frequency')),
    describe: () => describeRelation(document),
    predictModulusOfRupture: (predictors) => {
      // taken out again, it leaves its mark on the stem: the numbers of the modes and the root were weighed under it
      if (stiffnessPredictorOf(spec) !== null && predictors.modulusPriorPa?.isSetByHand) {
        return withhold(
          'The calibration predicts from the modulus of elasticity as measured, and a prior set by hand is in that of this pole. Take the prior of the stem modulus back, and assess anew.',
        );
      }
      const prediction = predictFromRelation(document, {
        ...predictors,
        // tests hold bare measurements, without what was known of the species before
        modulusPa: separateMeasurement(predictors.modulusPa, predictors.modulusPriorPa),
      });
      if (prediction.modulusOfRupturePa === null) return prediction;
      return { ...prediction, warnings: [...told, ...prediction.warnings] };
    },
  };
}
