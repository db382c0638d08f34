import { openStore } from '../../core/workspace/store.ts';

/** Holds a workspace open until it is ended. */
const store = openStore(process.argv[2]!);
process.stdout.write(`${store.readOnly?.code ?? 'held'}\n`);
setInterval(() => {}, 1000);
