import { type CSSVariablesResolver, createTheme, type MantineColorsTuple } from '@mantine/core';

/**
 * Every colour and size of the window. Data colours are of Okabe and Ito (2008), told apart by people with
 * any common form of colour vision; shape, position and words carry the same meaning.
 */
const inkBlue: MantineColorsTuple = [
  '#e9f2f8',
  '#d3e4ef',
  '#a8cbe2',
  '#79afd3',
  '#4f95c4',
  '#2f7fb3',
  '#1a75b3',
  '#005a92',
  '#004a7a',
  '#003a61',
];

export const theme = createTheme({
  primaryColor: 'inkBlue',
  primaryShade: { light: 7, dark: 6 },
  colors: { inkBlue },
  black: '#16191b',
  fontFamily: 'system-ui, "Segoe UI", "Helvetica Neue", "Noto Sans", "DejaVu Sans", Arial, sans-serif',
  fontFamilyMonospace: 'ui-monospace, "Cascadia Mono", Menlo, "DejaVu Sans Mono", monospace',
  fontSizes: { xs: '12px', sm: '13px', md: '13px', lg: '15px', xl: '18px' },
  spacing: { xs: '4px', sm: '8px', md: '12px', lg: '16px', xl: '24px' },
  defaultRadius: 3,
  cursorType: 'pointer',
});

/** Colours that plots and panels take; one set for each scheme. */
export type Palette = {
  ground: string;
  panel: string;
  raised: string;
  ink: string;
  quiet: string;
  rule: string;
  grid: string;
  /** Bending planes in order: the colour of lines and markers. */
  planes: readonly [string, string, string, string];
  /** What was inferred: posterior and capacity. */
  result: string;
  resultFill: string;
  prior: string;
  band: string;
  chosen: string;
};

const light: Palette = {
  ground: '#e9e7e1',
  panel: '#fdfcfa',
  raised: '#f2f0ea',
  ink: '#16191b',
  quiet: '#4d5358',
  rule: '#c4c1b8',
  grid: '#e3e0d8',
  planes: ['#0072b2', '#c24e00', '#00785a', '#8a4f74'],
  result: '#7c3f66',
  resultFill: 'rgba(204, 121, 167, 0.34)',
  prior: '#5c6268',
  band: 'rgba(22, 25, 27, 0.055)',
  chosen: 'rgba(0, 114, 178, 0.13)',
};

const dark: Palette = {
  ground: '#101315',
  panel: '#191d20',
  raised: '#22272b',
  ink: '#eceae4',
  quiet: '#aab0b4',
  rule: '#3b4247',
  grid: '#2b3135',
  planes: ['#56b4e9', '#e69f00', '#2fc39a', '#cc79a7'],
  result: '#e3a3c8',
  resultFill: 'rgba(204, 121, 167, 0.36)',
  prior: '#98a0a6',
  band: 'rgba(236, 234, 228, 0.06)',
  chosen: 'rgba(86, 180, 233, 0.16)',
};

export const palettes = { light, dark } as const;

/**
 * Sequential scale of level plots, red, green and blue at even steps: cividis (Nuñez, Anderton and Renslow 2018, PLoS ONE
 * 13(7):e0199239), readable with any colour vision.
 */
export const LEVEL_COLOURS: readonly (readonly [red: number, green: number, blue: number])[] = [
  [0, 32, 76],
  [0, 42, 102],
  [0, 52, 110],
  [39, 63, 108],
  [60, 74, 107],
  [76, 85, 107],
  [91, 95, 109],
  [104, 106, 112],
  [117, 117, 117],
  [131, 129, 120],
  [146, 140, 120],
  [161, 152, 118],
  [176, 165, 114],
  [192, 177, 109],
  [209, 191, 102],
  [225, 204, 92],
  [243, 219, 79],
  [255, 233, 69],
];

/** Hands the palette to style sheets, and holds the component library's own text colours to the same contrast. */
export const cssVariables: CSSVariablesResolver = () => ({
  variables: {},
  light: { ...asVariables(light), ...componentVariables(light) },
  dark: { ...asVariables(dark), ...componentVariables(dark) },
});

function asVariables(palette: Palette): Record<string, string> {
  const { planes, ...rest } = palette;
  return Object.fromEntries([
    ...Object.entries(rest).map(([name, value]) => [`--${name}`, value]),
    ...planes.map((value, plane) => [`--plane-${plane}`, value]),
  ]);
}

function componentVariables(palette: Palette): Record<string, string> {
  return {
    '--mantine-color-body': palette.panel,
    '--mantine-color-text': palette.ink,
    '--mantine-color-error': palette.ink,
    '--mantine-color-dimmed': palette.quiet,
    '--mantine-color-placeholder': palette.quiet,
    '--mantine-color-default-border': palette.rule,
    '--mantine-color-default': palette.panel,
    '--mantine-color-default-hover': palette.raised,
    '--mantine-color-default-color': palette.ink,
  };
}
