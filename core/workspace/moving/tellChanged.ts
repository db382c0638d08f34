import { StoreError } from '../../errors.ts';

/** A source that is not as it was when the move began. @param what - is different, in words */
export function tellChanged(path: string, what: string): StoreError {
  return new StoreError(
    'move.changed',
    `${path} was changed while it was moved: ${what}.`,
    'Close what works on it and give the same command again; it goes on from here. If it stays, look into it with: npm run -s stemroot -- care prove <workspace>',
  );
}
