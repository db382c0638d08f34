import { writeSync } from 'node:fs';
import { type JobName, jobs } from './jobs.ts';

/** Works at one job over a workspace until it is killed; tells each thing that was stored by one line. */
const [job, workspace, firstForm] = process.argv.slice(2) as [JobName, string, string];
const STANDARD_OUTPUT = 1;
writeSync(STANDARD_OUTPUT, 'ready\n');
await jobs[job]({
  workspace,
  firstForm,
  tell: (done) => void writeSync(STANDARD_OUTPUT, `${JSON.stringify(done)}\n`),
});
