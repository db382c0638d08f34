/** Half the width of a 90 % range of a normal quantity, in standard deviations. */
export const Z_OF_90_PERCENT = 1.6449;
