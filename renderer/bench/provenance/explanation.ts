/** How a number came about, for whoever clicks it. */
export type Explanation = {
  title: string;
  /** The number itself, as shown. */
  value: string;
  formula: string;
  /** What went in, with the value each had here. */
  inputs: readonly (readonly [name: string, value: string])[];
  source: string;
};
