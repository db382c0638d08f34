import { tellLine } from '../tellLine.ts';
import { type JobName, jobs } from './jobs.ts';

/** Works at one job over a workspace until it is killed; tells each thing that was stored by one line. */
const [job, workspace, firstForm] = process.argv.slice(2) as [JobName, string, string];
tellLine('ready');
await jobs[job]({
  workspace,
  firstForm,
  tell: tellLine,
});
