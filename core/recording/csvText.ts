import { FormatError } from '../errors.ts';

/** Characters over which the delimiter is guessed; a header row is never longer. */
const LONGEST_HEADER = 64 * 1024;

/**
 * Turns the bytes of a CSV file into text: UTF-8, with or without its mark.
 * @throws FormatError `csv.encoding` for UTF-16
 */
export function decodeCsv(bytes: Uint8Array, fileName: string): string {
  if ((bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff)) {
    throw new FormatError(
      'csv.encoding',
      `${fileName}: the text is coded in UTF-16; UTF-8 or ASCII is expected.`,
      'Save the file again as CSV UTF-8.',
    );
  }
  return new TextDecoder('utf-8').decode(bytes);
}

/**
 * Finds the mark among tab, semicolon and comma that the header holds most of; comma where it holds none.
 * @param mayBeHeader - of lines that are neither empty nor begin with #. @default every one
 */
export function guessDelimiter(text: string, mayBeHeader: (line: string) => boolean = () => true): string {
  const lines = text.slice(0, LONGEST_HEADER).split(/\r\n|\r|\n/);
  const header = lines.find((line) => line.trim() !== '' && !line.startsWith('#') && mayBeHeader(line)) ?? '';
  let best = ',';
  for (const mark of ['\t', ';']) {
    if (header.split(mark).length > header.split(best).length) best = mark;
  }
  return best;
}
