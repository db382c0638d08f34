/*
 * Plots: thin dress over Plotly. They take plain arrays and callbacks and analyse nothing; margins are fixed, so
 * that a place in the data and a place on screen follow from each other without asking the plot.
 */
export { Figure, type FigureProps } from './Figure.tsx';
export { type Frame, pixelOf, valueAt } from './frame.ts';
export { type Levels, layLevels, loudestOf, paintLevels, SHOWN_DECIBELS } from './levels.ts';
export { type AxisRange, keepInside } from './rangeKeys.ts';
export { roundDown } from './roundDown.ts';
export { axisStyle, baseLayout, bottomAxis } from './style.ts';
export { useDrag } from './useDrag.ts';
