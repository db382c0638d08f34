import { basename } from 'node:path';
import { FAULTS, PAPER_QUIZ } from '../../core/classroom/index.ts';
import type { CallRequest } from '../../core/workspace/index.ts';
import { ask } from './ask.ts';
import { readInput, writeOutput } from './files.ts';
import { layTable, print } from './print.ts';
import { readAnswerSheet } from './readAnswerSheet.ts';
import { withWorkspace } from './register.ts';

type LessonId = CallRequest<'classroom.openLesson'>['lessonId'];

/** Lists the lessons of a workspace. */
export function runListLessons(workspace: string): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const { lessons } = await ask(handlers, 'classroom.listLessons', {});
    if (lessons.length === 0) print('There is no lesson in this workspace.');
    else {
      print(
        layTable(
          ['lesson', 'title', 'made by', 'blows', 'asked'],
          lessons.map(({ lessonId, title, maker, blows, asked }) => [
            String(lessonId),
            title,
            maker,
            String(blows),
            String(asked),
          ]),
        ),
      );
    }
    return 0;
  });
}

/** Writes a lesson as a file that names its recordings by their hashes. */
export function runExportLesson(
  workspace: string,
  lessonId: LessonId,
  options: { out: string },
): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const { text } = await ask(handlers, 'classroom.exportLesson', { lessonId });
    writeOutput(options.out, text);
    print(`Lesson ${lessonId} written to ${options.out}`);
    return 0;
  });
}

/** Takes lesson files into a workspace. */
export function runImportLessons(workspace: string, paths: readonly string[]): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    for (const path of paths) {
      const request = { fileName: basename(path), text: readInput(path).toString('utf8') };
      const { lessonId, title, missing } = await ask(handlers, 'classroom.importLesson', request);
      const lacks = missing > 0 ? `; the recordings of ${missing} of its blows are not here` : '';
      print(`${path}: lesson ${lessonId}, ${title}${lacks}`);
    }
    return 0;
  });
}

/** Writes a lesson for paper: explained, or as questions. */
export function runPrintLesson(
  workspace: string,
  lessonId: LessonId,
  options: { out: string; questions?: boolean },
): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const form = options.questions ? 'questions' : 'explained';
    const { text } = await ask(handlers, 'classroom.printHandout', { lessonId, form });
    writeOutput(options.out, text);
    print(`${options.questions ? 'Questions' : 'Handout'} of lesson ${lessonId} written to ${options.out}`);
    return 0;
  });
}

/** Grades answers to the printed questions of a lesson, keeps the score, and prints it. */
export function runGradeLesson(
  workspace: string,
  lessonId: LessonId,
  options: { trainee: string; answers: string },
): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const quiz = PAPER_QUIZ;
    const { turns } = await ask(handlers, 'classroom.startQuiz', { lessonId, quiz });
    const sheet = readInput(options.answers).toString('utf8');
    const answers = readAnswerSheet(sheet, options.answers, turns.length);
    const { grading } = await ask(handlers, 'classroom.gradeQuiz', {
      lessonId,
      quiz,
      trainee: options.trainee,
      answers,
    });
    print(describeTallies('Against the checks of the program', grading.againstChecks));
    if (grading.againstStated) {
      print(describeTallies('Against what the maker of the lesson states', grading.againstStated));
    }
    return 0;
  });
}

/** Writes every score of a workspace as a table. */
export function runExportScores(workspace: string, options: { out: string }): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const { scores } = await ask(handlers, 'classroom.listScores', {});
    const { text } = await ask(handlers, 'classroom.exportScores', {});
    writeOutput(options.out, text);
    print(
      scores.length > 0
        ? `${scores.length} ${scores.length === 1 ? 'score' : 'scores'} written to ${options.out}`
        : `The workspace holds no scores; ${options.out} has none in it`,
    );
    return 0;
  });
}

type Tally = { fault: string; hits: number; misses: number; falseAlarms: number };

function describeTallies(title: string, tallies: readonly Tally[]): string {
  const rows = tallies
    .filter(({ hits, misses, falseAlarms }) => hits + misses + falseAlarms > 0)
    .map(({ fault, hits, misses, falseAlarms }) => [
      FAULTS.find(({ id }) => id === fault)!.name,
      String(hits + misses),
      String(hits),
      String(misses),
      String(falseAlarms),
    ]);
  return `${title}\n${layTable(['fault', 'there', 'hits', 'misses', 'false alarms'], rows)}\n`;
}
