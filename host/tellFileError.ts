/** Errors of the operating system (errno(3)) that a wrong path or missing rights lead to. */
const IN_WORDS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file or folder',
  ENOTDIR: 'a part of its path is a file, not a folder',
  EEXIST: 'a file is there already',
  EISDIR: 'it is a folder',
  EACCES: 'its rights do not allow it',
};

/** Why a file or folder cannot be read or written, in words; the system's own where it is none of the usual. */
export function tellFileError(error: unknown): string {
  const { code, message } = error as NodeJS.ErrnoException;
  return IN_WORDS[code ?? ''] ?? message;
}
