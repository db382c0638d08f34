import type * as PlotlyApi from 'plotly.js';
import core from 'plotly.js/lib/core';

/** The part of Plotly that the window uses: scatter and images come with the core. No WebGL: envelopes are short enough. */
export const Plotly = core as unknown as typeof PlotlyApi;
