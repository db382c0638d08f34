import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { openStore } from '../../core/workspace/index.ts';
import { FAILING_POLE, fakeChain } from '../workspace/fakeChain.ts';
import { makeCsv, makeFolder, makeVisitFile } from '../workspace/visitFixture.ts';
import { runCommand } from './runCommand.ts';

vi.mock('../../core/assess.ts', async () => (await import('../workspace/fakeChain.ts')).fakeChain);
vi.mock('piscina', () => import('../workspace/piscinaInProcess.ts'));

/** More than are ever handed out ahead. */
const VISITS = 45;

let folder: string;
let workspace: string;

function placeVisits(poles: readonly string[]): void {
  for (const [i, pole] of poles.entries()) {
    writeFileSync(join(folder, `${pole}.visit.json`), JSON.stringify(makeVisitFile(pole)));
    writeFileSync(join(folder, `${pole}.csv`), makeCsv(i));
  }
}

async function countResults(): Promise<{ visits: number; results: number }> {
  const store = openStore(workspace);
  const count = async (table: 'visits' | 'assessments') =>
    (await store.db.selectFrom(table).select('visit_id').execute()).length;
  const counts = { visits: await count('visits'), results: await count('assessments') };
  await store.close();
  return counts;
}

beforeEach(() => {
  folder = makeFolder();
  workspace = join(folder, 'a.stemroot');
});

describe('a batch that is broken off by Ctrl-C', () => {
  it('stores what it has begun, says what is left, and goes on from there by the same command', async () => {
    placeVisits(Array.from({ length: VISITS }, (_, i) => `TV-${i}`));
    const begun = fakeChain.analyseVisit.getMockImplementation()!;
    fakeChain.analyseVisit.mockImplementationOnce((input) => {
      process.emit('SIGINT');
      return begun(input);
    });
    const first = await runCommand('import', workspace, folder, '--assess');
    expect(first.code).toBe(1);
    const { visits, results } = await countResults();
    expect(results).toBe(visits);
    expect(results).toBeGreaterThan(0);
    expect(results).toBeLessThan(VISITS);
    expect(first.error).toContain(
      `Stopped: ${VISITS - results} of ${VISITS} visit files were not imported and assessed. The same command goes on from there.`,
    );

    fakeChain.analyseVisit.mockClear();
    const second = await runCommand('import', workspace, folder, '--assess');
    expect(second.code).toBe(0);
    expect(fakeChain.analyseVisit).toHaveBeenCalledTimes(VISITS - results);
    expect(await countResults()).toEqual({ visits: VISITS, results: VISITS });
  });

  it('assesses what was imported before without a result', async () => {
    placeVisits(['TV-1', 'TV-2']);
    await runCommand('import', workspace, folder);
    expect(await countResults()).toEqual({ visits: 2, results: 0 });
    expect((await runCommand('import', workspace, folder, '--assess')).code).toBe(0);
    expect(await countResults()).toEqual({ visits: 2, results: 2 });
  });

  it('leaves later commands alone: nobody listens any more', async () => {
    const before = process.listenerCount('SIGINT');
    placeVisits(['TV-1']);
    await runCommand('import', workspace, folder);
    expect(process.listenerCount('SIGINT')).toBe(before);
  });
});

describe('a batch with a visit that fails', () => {
  it('names it, keeps its failure, and assesses the others', async () => {
    placeVisits(['TV-1', FAILING_POLE, 'TV-2']);
    const { code, out } = await runCommand('import', workspace, folder, '--assess');
    expect(code).toBe(1);
    expect(out).toContain(`${FAILING_POLE}.visit.json: not assessed. No mode was found.`);
    expect(await countResults()).toEqual({ visits: 3, results: 3 });
  });
});
