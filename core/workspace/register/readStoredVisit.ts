import type { VisitFile } from '../../recording/index.ts';

export type Position = { readonly latitude: number; readonly longitude: number };

/** Pole and measurements of a stored visit file, unchecked: a file that was imported is valid. A byte order mark is dropped by the decoder. */
export function readStoredVisit(fileBytes: Uint8Array): Pick<VisitFile, 'pole' | 'measured'> {
  return JSON.parse(new TextDecoder().decode(fileBytes)) as VisitFile;
}

/** Where the pole stands; null where its visit file does not say. */
export function readPosition({ latitude, longitude }: VisitFile['pole']): Position | null {
  return latitude != null && longitude != null ? { latitude, longitude } : null;
}
