/** The largest of 1, 2, 3, 5 times a power of ten that a value reaches. */
export function roundDown(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value));
  return power * ([5, 3, 2].find((step) => step * power <= value) ?? 1);
}
