/** How a number came about, for whoever clicks it. */
export type Explanation = {
  title: string;
  /** The number itself, as shown. */
  value: string;
  formula: string;
  /** What went in, with the value each had here; `next` names an input whose own way is told. */
  inputs: readonly ExplainedInput[];
  source: string;
};

type ExplainedInput = readonly [name: string, value: string, next?: ResultName];

/** Results whose way from the recordings is told. */
export type ResultName =
  | 'modulus'
  | 'fixity'
  | 'rotationalStiffness'
  | 'expectedStiffness'
  | 'softRootChance'
  | 'settingDepth'
  | 'narrowing'
  | 'rupture'
  | 'sectionModulus'
  | 'groundlineGirth'
  | 'capacity'
  | 'lowerFive'
  | 'requirement'
  | 'threshold'
  | 'chanceBelow'
  | 'chanceBelowThreshold';
