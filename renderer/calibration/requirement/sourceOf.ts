const OWN_SOURCE = 'By its engineer';
/** A figure typed in another unit comes back with dust in its last digits. */
const DUST = 1e-9;

type Start<F extends string> = { readonly name: string; readonly source: string } & Readonly<
  Record<F, number>
>;

/** Where figures are from: the setting that has all of them, however they came to be, or else whoever entered them. */
export function sourceOf<F extends string>(
  figures: Readonly<Record<F, number>>,
  fields: readonly F[],
  starts: readonly Start<F>[],
): string {
  const start = starts.find((known) =>
    fields.every((field) => Math.abs(figures[field] - known[field]) <= DUST * Math.abs(known[field])),
  );
  return start ? `${start.name}: ${start.source}` : OWN_SOURCE;
}
