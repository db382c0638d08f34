/** How a quantity in SI is shown: divided by `scale`, followed by `symbol`. */
export type DisplayUnit = { readonly symbol: string; readonly scale: number };

export const UNITS = {
  gigapascal: { symbol: 'GPa', scale: 1e9 },
  megapascal: { symbol: 'MPa', scale: 1e6 },
  kilonewtonMetre: { symbol: 'kN·m', scale: 1e3 },
  meganewtonMetrePerRadian: { symbol: 'MN·m/rad', scale: 1e6 },
  meganewtonPerCubicMetre: { symbol: 'MN/m³', scale: 1e6 },
  meganewtonPerSquareMetre: { symbol: 'MN/m²', scale: 1e6 },
  kilonewtonPerMetre: { symbol: 'kN/m', scale: 1e3 },
  kilogramPerCubicMetre: { symbol: 'kg/m³', scale: 1 },
  litre: { symbol: 'dm³', scale: 1e-3 },
  hertz: { symbol: 'Hz', scale: 1 },
  metre: { symbol: 'm', scale: 1 },
  millimetre: { symbol: 'mm', scale: 1e-3 },
  second: { symbol: 's', scale: 1 },
  kilogram: { symbol: 'kg', scale: 1 },
  percent: { symbol: '%', scale: 0.01 },
  none: { symbol: '', scale: 1 },
} as const satisfies Record<string, DisplayUnit>;

/** How what results state in an SI unit is shown; a unit that is not here as it stands. */
const SHOWN_UNITS: Readonly<Record<string, DisplayUnit>> = {
  Pa: UNITS.gigapascal,
  'N/m2': UNITS.meganewtonPerSquareMetre,
  'N/m3': UNITS.meganewtonPerCubicMetre,
  'N m/rad': UNITS.meganewtonMetrePerRadian,
  'N/m': UNITS.kilonewtonPerMetre,
  'kg/m3': UNITS.kilogramPerCubicMetre,
};

export function displayUnitOf(siUnit: string): DisplayUnit {
  return SHOWN_UNITS[siUnit] ?? { symbol: siUnit, scale: 1 };
}

/** A median with its interval. */
type Interval = { readonly value: number; readonly low: number; readonly high: number };
type MeasuredValue = { readonly value: number; readonly sd: number };

/** Two digits of an uncertainty: one rounds by up to a third, three claim what is not known. */
const DIGITS_OF_UNCERTAINTY = 2;
/** Digits of a number that states no uncertainty. */
const DIGITS_WITHOUT_UNCERTAINTY = 3;
/** From this ratio of high to low on, one decimal place does not suit both ends. */
const WIDE_RATIO = 10;
const MOST_DECIMALS = 12;
const DIGITS_OF_FIGURE = 2;
const FINEST_FIGURE = 0.001;

/**
 * A number in plain decimals (no exponent) with the given significant digits.
 * @param value - any number; what is not finite is named in words
 * @param digits - significant digits, 1 or more @default 3
 */
export function formatNumber(value: number, digits = DIGITS_WITHOUT_UNCERTAINTY): string {
  return formatWithDecimals(value, decimalsFor(value, digits));
}

/** A number with a unit, for instance `1.45 m`; `missing` where there is none. */
export function formatQuantity(
  value: number | null | undefined,
  unit: DisplayUnit,
  digits = DIGITS_WITHOUT_UNCERTAINTY,
  missing = 'not stated',
): string {
  return value == null ? missing : addUnit(formatNumber(value / unit.scale, digits), unit);
}

/** As {@link formatQuantity}, but with every digit that was entered: a record is shown as it was written. */
export function formatEntered(
  value: number | null | undefined,
  unit: DisplayUnit,
  missing = 'not stated',
): string {
  if (value == null) return missing;
  // Twelve digits take off what the division by the scale left in the last place.
  return addUnit(writeMinus(String(Number((value / unit.scale).toPrecision(12)))), unit);
}

/**
 * A median with its interval and unit, for instance `10.4 (9.6 to 11.3) GPa`. The interval's width decides
 * the digits: two of the width; where high is more than ten times low, two of each number.
 */
export function formatEstimate(estimate: Interval, unit: DisplayUnit): string {
  return writeEstimate(estimate, unit, 0);
}

/**
 * As {@link formatEstimate}, for one that stands beside how much it changed: with three digits of the median at least, so that
 * who works out the percent from the figures comes to the same.
 */
export function formatCompared(estimate: Interval, unit: DisplayUnit): string {
  return writeEstimate(estimate, unit, DIGITS_WITHOUT_UNCERTAINTY);
}

function writeEstimate(estimate: Interval, unit: DisplayUnit, leastDigits: number): string {
  const write = writerFor(estimate, unit, leastDigits);
  return addUnit(`${write(estimate.value)} (${write(estimate.low)} to ${write(estimate.high)})`, unit);
}

/** How the numbers of an estimate are written, without the unit. */
function writerFor(
  { value, low, high }: Interval,
  { scale }: DisplayUnit,
  leastDigits: number,
): (x: number) => string {
  const width = Math.abs(high - low) / scale;
  if (low > 0 && high / low > WIDE_RATIO) {
    return (x) => formatNumber(x / scale, Math.max(DIGITS_OF_UNCERTAINTY, leastDigits));
  }
  if (!(width > 0)) return (x) => formatNumber(x / scale, DIGITS_WITHOUT_UNCERTAINTY);
  const leastDecimals = leastDigits > 0 ? decimalsFor(value / scale, leastDigits) : Number.NEGATIVE_INFINITY;
  const decimals = Math.max(decimalsFor(width, DIGITS_OF_UNCERTAINTY), leastDecimals);
  return (x) => formatWithDecimals(x / scale, decimals);
}

/** The interval of {@link formatEstimate} alone, with the same digits, for instance `9.6 to 11.3 GPa`. */
export function formatRange({ low, high }: Omit<Interval, 'value'>, unit: DisplayUnit): string {
  const write = writerFor({ value: low, low, high }, unit, 0);
  return addUnit(`${write(low)} to ${write(high)}`, unit);
}

/** The median of {@link formatEstimate} alone, with the same digits: what stands where there is no room for the interval. */
export function formatMedian(estimate: Interval, unit: DisplayUnit): string {
  return addUnit(formatEstimate(estimate, { ...unit, symbol: '' }).split(' ', 1)[0]!, unit);
}

/**
 * A figure of a check, which is held against a limit: two digits, and nothing finer than a thousandth, which no limit asks for.
 */
export function formatFigure(value: number): string {
  const isTooFine = value !== 0 && Math.abs(value) < FINEST_FIGURE;
  return isTooFine ? `under ${FINEST_FIGURE}` : formatNumber(value, DIGITS_OF_FIGURE);
}

/** A measured value and its standard deviation with unit, for instance `2.790 ± 0.012 Hz`. */
export function formatMeasured(measured: MeasuredValue, unit: DisplayUnit): string {
  const value = measured.value / unit.scale;
  const sd = measured.sd / unit.scale;
  if (!(sd > 0) || !Number.isFinite(sd)) return addUnit(formatNumber(value), unit);
  const decimals = decimalsFor(sd, DIGITS_OF_UNCERTAINTY);
  return addUnit(`${formatWithDecimals(value, decimals)} ± ${formatWithDecimals(sd, decimals)}`, unit);
}

/**
 * A chance in whole percents. The tails are named and not numbered: no prior or calibration here is known
 * well enough for a tenth of a percent.
 */
export function formatChance(chance: number | null, missing = 'not told'): string {
  if (chance === null || Number.isNaN(chance)) return missing;
  if (chance < 0.01) return 'under 1 %';
  if (chance > 0.99) return 'over 99 %';
  return `${Math.round(chance * 100)} %`;
}

/** A share in whole percents; none below nothing: data that widened a quantity narrowed it by nothing. */
export function formatShare(share: number): string {
  return `${Math.round(Math.max(share, 0) * 100)} %`;
}

/** A difference in whole percents with its sign, from a share: 0.043 is `+4 %`. A sum of no percent has no sign. */
export function formatDifference(share: number | null, missing = 'none'): string {
  if (share === null || !Number.isFinite(share)) return missing;
  const percent = Math.round(100 * share);
  const sign = percent > 0 ? '+' : percent < 0 ? '−' : '';
  return `${sign}${Math.abs(percent)} %`;
}

/** The same in words, from the ratio of now to before: `4 % higher`. */
export function tellRatio(ratio: number, { more = 'higher', less = 'lower' } = {}): string {
  return `${formatShare(Math.abs(ratio - 1))} ${ratio > 1 ? more : less}`;
}

/** `2026-05-04T10:12:00.000Z` as `2026-05-04 10:12 UTC`; text of another form stays as it is. */
export function formatTime(iso: string): string {
  const match = /^(\d{4}-\d{2}-\d{2})T(\d{2}:\d{2})(?::\d{2}(?:\.\d+)?)?Z$/.exec(iso);
  return match === null ? iso : `${match[1]} ${match[2]} UTC`;
}

/** A number's text with the minus sign (U+2212) for the hyphen that JavaScript writes: one form wherever a number is shown. */
export function writeMinus(text: string): string {
  return text.replaceAll('-', '−');
}

function addUnit(text: string, unit: DisplayUnit): string {
  return unit.symbol === '' ? text : `${text} ${unit.symbol}`;
}

/** Decimal places at which `magnitude` shows this many significant digits; negative rounds to tens and up. */
function decimalsFor(magnitude: number, digits: number): number {
  if (magnitude === 0 || !Number.isFinite(magnitude)) return 0;
  // Through toExponential, so that 9.96 counts as 10 before its place is taken.
  const exponent = Number(
    Math.abs(magnitude)
      .toExponential(digits - 1)
      .split('e')[1],
  );
  return Math.min(digits - 1 - exponent, MOST_DECIMALS);
}

function formatWithDecimals(value: number, decimals: number): string {
  if (Number.isNaN(value)) return 'no number';
  if (!Number.isFinite(value)) return value > 0 ? 'unlimited' : 'unlimited below';
  const step = 10 ** Math.max(-decimals, 0);
  const text = roundTo(value, step).toFixed(Math.max(decimals, 0));
  return /^-0(\.0*)?$/.test(text) ? text.slice(1) : writeMinus(text);
}

function roundTo(value: number, step: number): number {
  return step === 1 ? value : Math.round(value / step) * step;
}
