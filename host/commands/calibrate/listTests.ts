import { formatNumber } from '../../../core/formatNumbers.ts';
import { ask } from '../ask.ts';
import { layTable, print, printJson } from '../print.ts';
import { withWorkspace } from '../register.ts';

const PA_PER_MPA = 1e6;
const PA_PER_GPA = 1e9;
const NM_PER_KNM = 1e3;

/** Prints the tables of break tests, and every test in use. */
export function runListTests(workspace: string, { json }: { json?: boolean }): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const answer = await ask(handlers, 'calibration.tests', {});
    if (json) {
      printJson(answer);
      return 0;
    }
    for (const { setId, fileName, keptAt, tests, refused, csvSha256, setAside } of answer.sets) {
      print(
        `Set ${setId}: ${fileName}, kept ${keptAt.slice(0, 10)}, ${tests} tests, ${refused.length} cells refused, SHA-256 ${csvSha256}`,
      );
      for (const { tests: aside, chosenAt, chosenBy, reason } of setAside) {
        print(
          `  ${aside} of them set aside ${chosenAt.slice(0, 10)} by ${chosenBy}${reason && `: ${reason}`}`,
        );
      }
    }
    const figure = (value: number | null, per = 1) => (value === null ? '-' : formatNumber(value / per));
    print(
      layTable(
        [
          'No',
          'Test',
          'Species',
          'E GPa',
          'f1 Hz',
          'f2 Hz',
          'f3 Hz',
          'Moment kN·m',
          'At ground line MPa',
          'Where it broke MPa',
          'Visit',
        ],
        answer.tests.map((test) => [
          String(test.testId),
          test.name,
          test.species,
          figure(test.modulusPa, PA_PER_GPA),
          ...test.frequenciesHz.map((frequencyHz) => figure(frequencyHz)),
          figure(test.groundlineMomentNm, NM_PER_KNM),
          figure(test.groundlineStressPa, PA_PER_MPA),
          figure(test.modulusOfRupturePa, PA_PER_MPA),
          test.visitId === null ? '' : String(test.visitId),
        ]),
      ),
    );
    return 0;
  });
}
