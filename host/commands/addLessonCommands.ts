import { type Command, InvalidArgumentError } from 'commander';
import type { CallRequest } from '../../core/workspace/index.ts';
import {
  runExportLesson,
  runExportScores,
  runGradeLesson,
  runImportLessons,
  runListLessons,
  runPrintLesson,
} from './lesson.ts';

type LessonId = CallRequest<'classroom.openLesson'>['lessonId'];

/** Adds the commands of the classroom. @param finish - takes the exit code */
export function addLessonCommands(program: Command, finish: (exitCode: number) => void): void {
  const lesson = program
    .command('lesson')
    .description('lessons of the classroom: list, export, import, print, grade, scores');
  lesson
    .command('list')
    .argument('<workspace>')
    .action(async (workspace: string) => finish(await runListLessons(workspace)));
  lesson
    .command('export')
    .description('write a lesson as a file; recordings are named by their hashes')
    .argument('<workspace>')
    .argument('<lesson>', 'its number, or first-blows', parseLesson)
    .requiredOption('--out <file>', 'lesson file to write')
    .action(async (workspace: string, id: LessonId, options: { out: string }) =>
      finish(await runExportLesson(workspace, id, options)),
    );
  lesson
    .command('import')
    .description('take lesson files into a workspace')
    .argument('<workspace>')
    .argument('<files...>', 'lesson files (*.lesson.json)')
    .action(async (workspace: string, files: string[]) => finish(await runImportLessons(workspace, files)));
  lesson
    .command('print')
    .description('write a lesson for paper')
    .argument('<workspace>')
    .argument('<lesson>', 'its number, or first-blows', parseLesson)
    .requiredOption('--out <file>', 'HTML file to write')
    .option('--questions', 'pictures without names, and boxes to tick')
    .action(async (workspace: string, id: LessonId, options: { out: string; questions?: boolean }) =>
      finish(await runPrintLesson(workspace, id, options)),
    );
  lesson
    .command('grade')
    .description('grade answers to the printed questions, and keep the score')
    .argument('<workspace>')
    .argument('<lesson>', 'its number, or first-blows', parseLesson)
    .requiredOption('--trainee <name>')
    .requiredOption('--answers <file>', 'a line a blow: "3: clipping, noise" or "3: none"')
    .action(async (workspace: string, id: LessonId, options: { trainee: string; answers: string }) =>
      finish(await runGradeLesson(workspace, id, options)),
    );
  lesson
    .command('scores')
    .description('write every score as a table')
    .argument('<workspace>')
    .requiredOption('--out <file>', 'CSV file to write')
    .action(async (workspace: string, options: { out: string }) =>
      finish(await runExportScores(workspace, options)),
    );
}

function parseLesson(text: string): LessonId {
  if (text === 'first-blows') return text;
  const id = Number(text);
  if (Number.isSafeInteger(id) && id > 0) return id;
  throw new InvalidArgumentError('The number of a lesson, or first-blows, is expected.');
}
