import Papa from 'papaparse';
import {
  faultIdSchema,
  gradeQuiz,
  type Lesson,
  parseLesson,
  proposeLesson,
  type QuizKey,
  tabulateScores,
} from '../../classroom/index.ts';
import { hashSha256 } from '../../hashSha256.ts';
import { keepFromFormulas } from '../../keepFromFormulas.ts';
import { findBlows } from '../classroom/findBlows.ts';
import { createJudgedBlows, type JudgedBlow } from '../classroom/judgedBlows.ts';
import { createLessonBook, type QuizTurn } from '../classroom/lessonBook.ts';
import { dropLesson, keepLesson } from '../classroom/lessons.repository.ts';
import { printHandout } from '../classroom/printHandout.ts';
import { dropScores, insertScore, listScores } from '../classroom/scores.repository.ts';
import {
  markBlow,
  readBlowSound,
  viewBlowSpectrogram,
  viewBlowSpectrum,
  viewBlowWaveform,
} from '../classroom/viewBlow.ts';
import type { classroomCalls } from '../contract/classroomCalls.ts';
import type { CallRequest } from '../contract.ts';
import type { HandlersOf } from '../handlers.ts';
import type { RecordingReader } from '../recordingReader.ts';
import type { Store } from '../store.ts';

type Place = CallRequest<'classroom.waveform'>['of'];

export function createClassroomHandlers(
  store: Store,
  reader: RecordingReader,
): HandlersOf<typeof classroomCalls> {
  const { db } = store;
  const judgedBlows = createJudgedBlows(store, reader);
  const book = createLessonBook(store, judgedBlows);

  const readBlow = async (of: Place) => {
    const judged = 'quiz' in of ? await takeTurn(of) : await judgedBlows.at(of);
    const { visitId, recording } = judged.blow;
    return { judged, recording: await reader.readOne(visitId, recording) };
  };
  const takeTurn = async ({ lessonId, quiz, turn }: Extract<Place, { quiz: number }>) => {
    const turns = await book.ask(await book.open(lessonId), quiz);
    return turns[Math.min(turn, turns.length - 1)]!.judged;
  };

  return {
    'classroom.findBlows': (query) => findBlows(store, judgedBlows, query),
    'classroom.describeBlow': async (place) => {
      const { judged, recording } = await readBlow(place);
      return { blow: judged.blow, checks: tellFaults(judged), marks: tellMarks(markBlow(recording, judged)) };
    },
    'classroom.waveform': async ({ of, ...view }) => {
      const { judged, recording } = await readBlow(of);
      return viewBlowWaveform(recording, judged, view);
    },
    'classroom.spectrum': async ({ of, maximumHz }) => {
      const { judged, recording } = await readBlow(of);
      return viewBlowSpectrum(recording, judged, maximumHz);
    },
    'classroom.spectrogram': async ({ of, ...view }) => {
      const { judged, recording } = await readBlow(of);
      return viewBlowSpectrogram(recording, judged, view);
    },
    'classroom.sound': async ({ of, channel }) => {
      const { judged, recording } = await readBlow(of);
      return readBlowSound(recording, judged, channel);
    },
    'classroom.listLessons': async () => ({
      lessons: (await book.list()).map(({ lessonId, lesson, changedAt }) => ({
        lessonId,
        title: lesson.title,
        maker: lesson.maker,
        blows: lesson.blows.length,
        asked: lesson.blows.filter(({ use }) => use !== 'show').length,
        changedAt,
      })),
    }),
    'classroom.openLesson': async ({ lessonId }) => {
      const lesson = await book.open(lessonId);
      const found = await book.find(lesson);
      return {
        lesson,
        blows: found.map(({ judged, missing }) => ({ blow: judged?.blow ?? null, missing })),
      };
    },
    'classroom.proposeLesson': ({ blows }) => ({ lesson: proposeLesson(blows) }),
    'classroom.keepLesson': async ({ lessonId, lesson }) => ({
      lessonId: await keepLesson(db, lessonId, lesson),
    }),
    'classroom.dropLesson': async ({ lessonId }) => {
      await dropLesson(db, lessonId);
      return {};
    },
    'classroom.exportLesson': async ({ lessonId }) => {
      const lesson = await book.open(lessonId);
      return { fileName: nameFile(lesson, 'lesson.json'), text: `${JSON.stringify(lesson, null, 2)}\n` };
    },
    'classroom.importLesson': async ({ fileName, text }) => {
      const lesson = parseLesson(text, fileName);
      const lessonId = await keepLesson(db, null, lesson);
      const missing = (await book.find(lesson)).filter(({ judged }) => judged === null).length;
      return { lessonId, title: lesson.title, missing };
    },
    'classroom.startQuiz': async ({ lessonId, quiz }) => {
      const lesson = await book.open(lessonId);
      const turns = await book.ask(lesson, quiz);
      return {
        title: lesson.title,
        turns: await Promise.all(turns.map(async ({ judged }) => describeTurn(judged, reader))),
      };
    },
    'classroom.gradeQuiz': async ({ lessonId, quiz, trainee, answers }) => {
      const lesson = await book.open(lessonId);
      const turns = await book.ask(lesson, quiz);
      const grading = gradeQuiz(answers, turns.map(readKey));
      const scoreId = await insertScore(db, {
        trainee,
        gradedAt: new Date().toISOString(),
        lessonTitle: lesson.title,
        lessonSha256: hashSha256(JSON.stringify(lesson)),
        grading,
      });
      return { scoreId, grading, blows: turns.map(({ judged }) => judged.blow) };
    },
    'classroom.listScores': async () => ({ scores: await listScores(db) }),
    'classroom.exportScores': async () => {
      const rows = tabulateScores(await listScores(db)).map((row) => row.map(keepFromFormulas));
      return { fileName: 'quiz-scores.csv', text: `${Papa.unparse(rows, { newline: '\r\n' })}\r\n` };
    },
    'classroom.dropScores': async ({ trainee }) => ({ dropped: await dropScores(db, trainee) }),
    'classroom.printHandout': async ({ lessonId, form }) => {
      const lesson = await book.open(lessonId);
      const text = await printHandout(lesson, await book.find(lesson), form, reader);
      return { fileName: nameFile(lesson, form === 'explained' ? 'handout.html' : 'questions.html'), text };
    },
  };
}

function tellFaults({ checks }: JudgedBlow) {
  return checks
    .filter(({ verdict }) => verdict !== 'use')
    .map(({ id, verdict, text, advice }) => ({ fault: faultIdSchema.parse(id), verdict, text, advice }));
}

function tellMarks(marks: ReturnType<typeof markBlow>) {
  return marks.map(({ timeS, frequencyHz, ...mark }) => ({
    ...mark,
    timeS: timeS && ([...timeS] as [number, number]),
    frequencyHz: frequencyHz && ([...frequencyHz] as [number, number]),
  }));
}

async function describeTurn({ blow }: JudgedBlow, reader: RecordingReader) {
  const { channels } = await reader.readOne(blow.visitId, blow.recording);
  return {
    exciter: blow.exciter,
    azimuthsDeg: channels.map(({ azimuthDeg }) => azimuthDeg),
    durationS: blow.durationS,
  };
}

/** What a check could not judge has no figure and says why, though it finds nothing. */
function readKey({ entry, judged }: QuizTurn): QuizKey {
  return {
    byChecks: judged.blow.faults,
    notJudged: judged.checks
      .filter(({ verdict, value, text }) => verdict === 'use' && value === null && text !== '')
      .map(({ id }) => faultIdSchema.parse(id)),
    stated: entry.statedFaults,
  };
}

/** A name that every file system takes. */
function nameFile({ title }: Lesson, ending: string): string {
  return `${title.replaceAll(/[^A-Za-z0-9_-]+/g, '-').replaceAll(/^-+|-+$/g, '') || 'lesson'}.${ending}`;
}
