/** Longer poles are seldom of one stem; 30 to 120 ft are usual lengths (common practice, no source), most of them below 100. */
export const LONG_POLE_M = 30;
