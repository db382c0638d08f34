/**
 * From the stem's modulus to bending capacity, and capacity against what is asked of the pole.
 * Calibrations, the distribution of groundline moment, and the requirement of class or line with the code's rule.
 * All of it is about sound wood: what frequencies cannot see is for the caller's cautions.
 */

export { type BreakTestMapping, breakTestMappingSchema } from './breakTests/breakTestMapping.ts';
export { compareBreakTests, isNamed, tellsSameBreak } from './breakTests/compareBreakTests.ts';
export { countArmsNotShortened } from './breakTests/countArmsNotShortened.ts';
export { noteKeptTests } from './breakTests/noteKeptTests.ts';
export {
  type BreakTestDetail,
  type BreakTestProposal,
  type BreakTests,
  proposeBreakTests,
  readBreakTests,
} from './breakTests/readBreakTests.ts';
export type { RefusedCell } from './breakTests/tableLimits.ts';
export {
  type Calibration,
  calibrationLabel,
  type StrengthPrediction,
  type StrengthPredictors,
} from './calibration.ts';
export { chanceBelow } from './distribution/chanceBelow.ts';
export { estimateOf } from './distribution/estimateOf.ts';
export { fromLognormal, medianOf, type StrengthDistribution } from './distribution/strengthDistribution.ts';
export { findRequiredModulus } from './findRequiredModulus.ts';
export { handbookCalibration } from './handbookCalibration.ts';
export { type Appraisal, appraiseRelation } from './judging/appraiseRelation.ts';
export { type ComparedRelation, type Comparison, compareRelations } from './judging/compareRelations.ts';
export type { Diagnosis, TestDiagnosis } from './judging/diagnoseTests.ts';
export type { TestForecast } from './judging/forecastTests.ts';
export type { HeldOutTest } from './judging/heldOutTest.ts';
export { type JudgedRelation, judgeRelation } from './judging/judgeRelation.ts';
export { type LearningCurve, learningCurve } from './judging/learningCurve.ts';
export { leaveOneOut } from './judging/leaveOneOut.ts';
export type { PredictionScore } from './judging/scorePredictions.ts';
export { type Capacity, type CapacityInputs, predictCapacity } from './predictCapacity.ts';
export { predictConditionalLognormal } from './predictConditionalLognormal.ts';
export { computeRoc, type Roc } from './price/computeRoc.ts';
export type { Costs, JudgedTest } from './price/judgedTest.ts';
export { measurementPart } from './price/measurementPart.ts';
export {
  type PriceOptions,
  priceThresholds,
  type ThresholdPrice,
  type ThresholdPrices,
} from './price/priceThresholds.ts';
export { type ValueOfVisit, type VisitedPole, valueOfSecondVisit } from './price/valueOfSecondVisit.ts';
export type { BreakTestRow } from './relation/breakTestRow.ts';
export { type CalibrationDocument, weaknessesOf } from './relation/calibrationDocument.ts';
export { calibrationFromDocument } from './relation/calibrationFromDocument.ts';
export { describeRelation } from './relation/describeRelation.ts';
export { type FittedRelation, type FittedTest, fitRelation } from './relation/fitRelation.ts';
export { predictFromRelation } from './relation/predictFromRelation.ts';
export {
  measurementsOf,
  PREDICTOR_INFO,
  readBack,
} from './relation/predictors.ts';
export { readStrengthPa } from './relation/prepareRows.ts';
export { type Publication, publishCalibration } from './relation/publishCalibration.ts';
export { readCalibrationDocument } from './relation/readCalibrationDocument.ts';
export {
  PREDICTORS,
  type PredictorName,
  type RelationSpec,
  relationSpecSchema,
} from './relation/relationSpec.ts';
export { separateMeasurement } from './relation/separateMeasurement.ts';
export type { Weakness } from './relation/weakness.ts';
export { compareWithRequirement, type Requirement } from './requirement/compareWithRequirement.ts';
export { findRequirement, type PoleGeometry } from './requirement/findRequirement.ts';
export { LOAD_FACTOR_SETTINGS, WIND_SETTINGS } from './requirement/loadSettings.ts';
export type { RequiredMoment, RequirementItem } from './requirement/requiredMoment.ts';
export { requirementFromClass } from './requirement/requirementFromClass.ts';
export { type LoadedPole, requirementFromLoads } from './requirement/requirementFromLoads.ts';
export {
  NO_RULE,
  STRENGTH_LOSS_RULES,
  type StrengthLossRule,
  TWO_THIRDS_RULE,
} from './requirement/strengthLossRules.ts';
export { sectionModulus } from './sectionModulus.ts';
