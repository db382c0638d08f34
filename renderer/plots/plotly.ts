import type * as PlotlyApi from 'plotly.js';
import core from 'plotly.js/lib/core';
import heatmap from 'plotly.js/lib/heatmap';

/** The part of Plotly that the window uses: scatter comes with the core. No WebGL: envelopes are short enough. */
export const Plotly = core as unknown as typeof PlotlyApi;
Plotly.register([heatmap] as unknown as Parameters<typeof PlotlyApi.register>[0]);
