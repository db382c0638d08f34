import { importVisit, openStore } from '../../core/workspace/index.ts';
import { makeCsv, makeSource, makeVisitFile } from './visitSources.ts';

/** Imports one visit after another, telling how many, until it is killed. */
const store = openStore(process.argv[2]!, { create: true });
for (let i = 1; ; i++) {
  const visit = makeVisitFile(`TV-${i}`, { files: ['x.csv', 'y.csv'] });
  await importVisit(store, makeSource(visit, { 'x.csv': makeCsv(2 * i), 'y.csv': makeCsv(2 * i + 1) }));
  process.stdout.write(`${i}\n`);
}
