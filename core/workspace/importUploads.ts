import { InputError } from '../errors.ts';
import type { CallRequest } from './contract.ts';
import { type ImportOutcome, importVisit } from './importVisit.ts';
import type { Store } from './store.ts';

const VISIT_FILE_ENDING = '.visit.json';

/** Imports every visit file among uploaded files, with the recordings uploaded beside it. */
export async function importUploads(
  store: Store,
  files: CallRequest<'visits.import'>['files'],
): Promise<ImportOutcome[]> {
  const byName = new Map(files.map((file) => [file.name, file]));
  const visits = files.filter(({ name }) => name.endsWith(VISIT_FILE_ENDING));
  if (visits.length === 0) {
    throw new InputError(
      'import.visits',
      `None of the ${files.length} files ends in ${VISIT_FILE_ENDING}.`,
      'Choose the visit files together with their recordings.',
    );
  }
  const outcomes: ImportOutcome[] = [];
  for (const { name, base64 } of visits) {
    const outcome = await importVisit(store, {
      fileName: name,
      readVisitFile: () => Buffer.from(base64, 'base64'),
      readRecordingFile: (fileName) => {
        const found = byName.get(fileName);
        return found && Buffer.from(found.base64, 'base64');
      },
    });
    outcomes.push(outcome);
  }
  return outcomes;
}
