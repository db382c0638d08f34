import { writeFileSync } from 'node:fs';
import { join, parse } from 'node:path';
import { InputError } from '../../core/errors.ts';
import { readRecordings } from '../../core/readRecordings.ts';
import { describeAsUff, writeUff } from '../../core/recording/index.ts';
import { readVisit } from '../visitFiles.ts';
import { makeFolder } from './files.ts';

/** Writes the recordings of a visit as universal files (dataset 58) into a folder, one each; no file is written over. */
export function runUniversal(path: string, options: { out: string; text?: boolean }): number {
  const input = readVisit(path);
  const { pole, measured } = input.visit;
  makeFolder(options.out);
  for (const { recording } of readRecordings(input)) {
    const datasets = describeAsUff(recording, [`pole ${pole.id}`, `${recording.fileName}, ${measured.date}`]);
    const target = join(options.out, `${parse(recording.fileName).name}.uff`);
    const bytes = writeUff(datasets, { form: options.text ? 'ascii' : 'binary' });
    try {
      writeFileSync(target, bytes, { flag: 'wx' });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
      throw new InputError('universal.exists', `${target} is there already.`, 'Name another folder.');
    }
    process.stdout.write(`${target}\n`);
  }
  return 0;
}
