/** Moves a workspace and is killed without warning once the first rows are stored. Run: node moveAndDie.ts <from> <to> */
import { moveStore } from '../../core/workspace/index.ts';

const [from, to] = process.argv.slice(2);
await moveStore(from!, to!, { onProgress: () => process.kill(process.pid, 'SIGKILL') });
