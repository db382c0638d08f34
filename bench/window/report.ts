type Measured = { best: number; median: number; goal: string; reference: { best: number; median: number } };

export function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(Math.floor(share * sorted.length), sorted.length - 1)]!;
}

export function median(values: readonly number[]): number {
  return quantile(values, 0.5);
}

/** One line of what was measured, beside how much slower known work ran at the same time than at its best. */
export function report(
  what: string,
  unit: string,
  { best, median: middle, goal, reference }: Measured,
): void {
  const slowed = reference.median / reference.best;
  console.log(
    `${what}: ${best.toFixed(0)} / ${middle.toFixed(0)} ${unit} (goal: ${goal}); known work ran ${slowed.toFixed(1)} times slower than at its best`,
  );
}
