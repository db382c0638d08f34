import './results.css';
import type { Data, Layout } from 'plotly.js';
import { useMemo } from 'react';
import { type DataTableContent, ErrorNote, Panel, usePalette, Waiting } from '../parts/index.ts';
import { axisStyle, baseLayout, Figure } from '../plots/index.ts';
import type { Palette } from '../theme.ts';
import type { Assessment, Picture } from '../types.ts';
import { formatEstimate, formatSignificant } from '../words/index.ts';
import type { Trial } from './useTrial.ts';

const PA_PER_GPA = 1e9;
const MARGIN = { l: 52, r: 14, t: 10, b: 36 } as const;
/** Ticks within a decade of fixity, dense where less than this many decades are shown. */
const DENSE_DECADES = 2;
const DENSE_TICKS = [1, 2, 3, 5, 7];
const SPARSE_TICKS = [1, 3];
const DECADES = [0.01, 0.1, 1, 10, 100, 1000];

/** The plane of stem (E) and root (fixity): what the recordings left possible, against prior and requirement. */
export function StemRootPanel({ trial }: { trial: Trial }) {
  const palette = usePalette();
  const { assessment, picture, failure, waiting } = trial;
  const figure = useMemo(
    () => picture && drawStemRoot(palette, picture, assessment),
    [palette, picture, assessment],
  );
  return (
    <Panel
      title="Stem against root"
      remark={waiting ? 'fitting anew' : picture && nameLines(picture)}
      {...(picture && { table: tableOf(assessment, picture) })}
    >
      {failure && <ErrorNote failure={failure} />}
      {!failure && !assessment && <Waiting what="Analysing the strikes and fitting stem and root." />}
      {assessment && !picture && (
        <p className="nothing">
          No picture: stem and root were not fitted. {assessment.withheldBecause ?? ''}
        </p>
      )}
      {picture && figure && <Figure label={labelOf(assessment)} data={figure.data} layout={figure.layout} />}
      {assessment && <Reading assessment={assessment} />}
    </Panel>
  );
}

function Reading({ assessment }: { assessment: Assessment }) {
  const { stem, root, identifiability } = assessment;
  if (!stem || !root) return null;
  return (
    <div className="reading">
      <dl>
        <div>
          <dt>Stem, E</dt>
          <dd>{formatEstimate(stem.modulusPa, 'GPa', PA_PER_GPA)}</dd>
        </div>
        <div>
          <dt>Root, fixity</dt>
          <dd>{formatEstimate(root.fixity, '')}</dd>
        </div>
      </dl>
      {identifiability && (
        <p>
          <strong>Stem and root {identifiability.verdict}.</strong> {identifiability.advice}
        </p>
      )}
    </div>
  );
}

function drawStemRoot(
  palette: Palette,
  picture: Picture,
  assessment: Assessment | null,
): { data: Data[]; layout: Partial<Layout> } {
  const modulusGPa = picture.modulusPa.map((pa) => pa / PA_PER_GPA);
  const levels = [...picture.credibleLevels].sort((a, b) => b.probability - a.probability);
  const common = { type: 'contour', x: modulusGPa, y: picture.fixity, z: picture.density, showscale: false };
  const contours = levels.map((level, i) => ({
    ...common,
    contours: { type: 'constraint', operation: '<', value: level.density },
    fillcolor: palette.resultFill,
    line: { color: palette.ink, width: 1.4, dash: i === levels.length - 1 ? 'solid' : 'dash' },
  }));
  const { stem, root } = assessment ?? { stem: null, root: null };
  const estimate =
    stem && root
      ? [
          {
            type: 'scatter',
            mode: 'markers',
            x: [stem.modulusPa.value / PA_PER_GPA],
            y: [root.fixity.value],
            marker: { symbol: 'cross-thin-open', size: 15, color: palette.ink, line: { width: 2.2 } },
          },
        ]
      : [];
  const range = picture.classRange;
  const [boxLow, boxHigh] = range.modulusPa.map((pa) => pa / PA_PER_GPA) as [number, number];
  const requiredGPa = picture.requiredModulusPa === null ? null : picture.requiredModulusPa / PA_PER_GPA;
  const xRange = [
    Math.min(modulusGPa[0]!, boxLow, requiredGPa ?? Number.POSITIVE_INFINITY) * 0.97,
    Math.max(modulusGPa.at(-1)!, boxHigh) * 1.02,
  ];
  const yRange = [
    Math.log10(Math.min(picture.fixity[0]!, range.fixity[0])) - 0.03,
    Math.log10(Math.max(picture.fixity.at(-1)!, range.fixity[1])) + 0.12,
  ];
  const dense = yRange[1]! - yRange[0]! < DENSE_DECADES;
  const ticks = DECADES.flatMap((decade) =>
    (dense ? DENSE_TICKS : SPARSE_TICKS).map((tick) => Number((tick * decade).toPrecision(2))),
  );
  return {
    data: [...contours, ...estimate] as unknown as Data[],
    layout: {
      ...baseLayout(palette),
      dragmode: false,
      margin: MARGIN,
      xaxis: { ...axisStyle(palette, 'Stem: modulus of elasticity E, GPa'), range: xRange },
      yaxis: {
        ...axisStyle(palette, 'Root: fixity'),
        type: 'log',
        range: yRange,
        tickvals: ticks,
        ticktext: ticks.map(String),
      },
      shapes: [
        {
          type: 'rect',
          x0: boxLow,
          x1: boxHigh,
          y0: range.fixity[0],
          y1: range.fixity[1],
          layer: 'below',
          fillcolor: palette.band,
          line: { color: palette.prior, width: 1.2, dash: 'dot' },
        },
        ...(requiredGPa === null
          ? []
          : [
              {
                type: 'line',
                x0: requiredGPa,
                x1: requiredGPa,
                yref: 'paper',
                y0: 0,
                y1: 1,
                line: { color: palette.ink, width: 1.6, dash: 'longdashdot' },
              },
            ]),
      ],
      annotations: [
        {
          x: boxHigh,
          y: Math.log10(range.fixity[1]),
          xanchor: 'right',
          yanchor: 'bottom',
          showarrow: false,
          text: 'usual before recording',
          font: { color: palette.prior },
        },
        ...(requiredGPa === null
          ? []
          : [
              {
                x: requiredGPa,
                yref: 'paper',
                y: 0,
                xanchor: requiredGPa > (xRange[0]! + xRange[1]!) / 2 ? 'right' : 'left',
                yanchor: 'bottom',
                showarrow: false,
                text: `required: E ${formatSignificant(requiredGPa)} GPa`,
              },
            ]),
      ],
    } as unknown as Partial<Layout>,
  };
}

/** What the lines of the picture are, in words. */
function nameLines(picture: Picture): string {
  const levels = picture.credibleLevels.map((level) => level.probability).sort((a, b) => a - b);
  const [inner, outer] = [levels[0], levels.at(-1)].map((p) => `${Math.round((p ?? 0) * 100)} %`);
  return `+ median; inner line holds ${inner}, outer ${outer}`;
}

function labelOf(assessment: Assessment | null): string {
  const { stem, root, identifiability } = assessment ?? {};
  if (!stem || !root) return 'Stem against root: nothing fitted';
  return `Stem against root: E ${formatEstimate(stem.modulusPa, 'GPa', PA_PER_GPA)}, fixity ${formatEstimate(root.fixity, '')}, ${identifiability?.verdict ?? ''}`;
}

function tableOf(assessment: Assessment | null, picture: Picture): DataTableContent {
  const { stem, root } = assessment ?? {};
  const gpa = (pa: number) => formatSignificant(pa / PA_PER_GPA);
  return {
    caption: 'Stem and root: estimate, usual range before recording, and requirement',
    columns: ['Quantity', 'E, GPa', 'Fixity'],
    rows: [
      ...(stem && root
        ? [
            ['median', gpa(stem.modulusPa.value), formatSignificant(root.fixity.value)],
            [
              `interval of ${Math.round(stem.modulusPa.level * 100)} %`,
              `${gpa(stem.modulusPa.low)} to ${gpa(stem.modulusPa.high)}`,
              `${formatSignificant(root.fixity.low)} to ${formatSignificant(root.fixity.high)}`,
            ],
          ]
        : []),
      [
        'usual before recording, 90 %',
        picture.classRange.modulusPa.map(gpa).join(' to '),
        picture.classRange.fixity.map((x) => formatSignificant(x)).join(' to '),
      ],
      ['required', picture.requiredModulusPa === null ? 'none' : gpa(picture.requiredModulusPa), 'none'],
    ],
  };
}
