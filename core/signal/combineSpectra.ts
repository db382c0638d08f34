import { InputError } from '../errors.ts';

/**
 * Combines the spectra of several strikes into one by their mean power, line by line: what rings in every strike
 * stays, what one strike alone shows sinks. Force is not known, so strong blows weigh more.
 * @param spectra - one or more, equally long, over the same frequencies (records of equal length)
 * @param kind - `amplitude`: the root of the mean square; `density`: the mean
 * @throws InputError `signal.spectra` for none, or for unlike lengths
 */
export function combineSpectra(
  spectra: readonly Float64Array[],
  kind: 'amplitude' | 'density',
): Float64Array {
  const lines = spectra[0]?.length;
  if (lines === undefined || spectra.some((spectrum) => spectrum.length !== lines)) {
    throw new InputError(
      'signal.spectra',
      `Spectra of ${spectra.map((spectrum) => spectrum.length).join(', ') || 'no'} lines; one or more of equal length are expected.`,
      'Cut the records to equal length first.',
    );
  }
  const combined = new Float64Array(lines);
  for (const spectrum of spectra) {
    for (let k = 0; k < lines; k++) {
      combined[k] = combined[k]! + (kind === 'amplitude' ? spectrum[k]! ** 2 : spectrum[k]!) / spectra.length;
    }
  }
  return kind === 'amplitude' ? combined.map(Math.sqrt) : combined;
}
