import { CAUTIONS } from '../../cautions.ts';
import { FAULTS, type Lesson, PAPER_QUIZ, shuffleBlows } from '../../classroom/index.ts';
import { PROGRAM } from '../../program.ts';
import { type HandoutBlow, type HandoutPictures, renderHandout } from '../../report/index.ts';
import type { RecordingReader } from '../recordingReader.ts';
import type { JudgedBlow } from './judgedBlows.ts';
import type { FoundBlow } from './lessonBook.ts';
import { markBlow, viewBlowSpectrum, viewBlowWaveform } from './viewBlow.ts';

/** Most faults of a blow show within its first quarter second; a second impact is looked for a little longer. */
const START_S = 0.3;
/** Columns of a strip on paper: finer is not seen. */
const START_COLUMNS = 300;
const WHOLE_COLUMNS = 500;
/** Modes lie below this, hum and its double too. */
const HIGHEST_HZ = 130;

type Form = 'explained' | 'questions';

/** Writes a lesson for paper: the blows that it shows, or those that its quiz asks for. */
export async function printHandout(
  lesson: Lesson,
  found: readonly FoundBlow[],
  form: Form,
  reader: RecordingReader,
): Promise<string> {
  // a blow without its recording cannot be asked for, on paper as little as in the window
  const asked = found.flatMap(({ entry, judged }, i) => (judged && entry.use !== 'show' ? [i] : []));
  const questions = shuffleBlows(asked.length, PAPER_QUIZ).map((i) => asked[i]!);
  const shown =
    form === 'questions' ? questions : [...found.keys()].filter((i) => found[i]!.entry.use !== 'ask');
  const blows: HandoutBlow[] = [];
  for (const [place, i] of shown.entries()) {
    const { entry, judged } = found[i]!;
    const names = (ids: readonly string[]) => ids.map(nameFault);
    blows.push({
      number: place + 1,
      question: questions.includes(i) ? questions.indexOf(i) + 1 : null,
      title: entry.title,
      note: entry.note,
      exciter: judged?.blow.exciter ?? 'unknown',
      source: `Pole ${entry.poleId}, ${entry.visitDate}, ${entry.recordingFile} at ${entry.startS.toFixed(2)} s`,
      verdict: judged?.blow.verdict ?? 'not known',
      faults: (judged?.checks ?? [])
        .filter(({ verdict }) => verdict !== 'use')
        .map(({ id, text, advice }) => ({ name: nameFault(id), text, advice })),
      stated: entry.statedFaults && names(entry.statedFaults),
      pictures: judged && (await takePictures(judged, reader)),
    });
  }
  return renderHandout({
    program: PROGRAM,
    title: lesson.title,
    maker: lesson.maker,
    notes: lesson.notes,
    form,
    blows,
    faults: FAULTS.map(({ name, look, notAsked }) => ({ name, look, asked: notAsked === null })),
    cautions: CAUTIONS,
  });
}

async function takePictures(judged: JudgedBlow, reader: RecordingReader): Promise<HandoutPictures> {
  const recording = await reader.readOne(judged.blow.visitId, judged.blow.recording);
  return {
    start: viewBlowWaveform(recording, judged, { fromS: -0.05, toS: START_S, columns: START_COLUMNS }),
    whole: viewBlowWaveform(recording, judged, { columns: WHOLE_COLUMNS }),
    spectrum: viewBlowSpectrum(recording, judged, HIGHEST_HZ),
    marks: markBlow(recording, judged),
  };
}

function nameFault(id: string): string {
  return FAULTS.find((fault) => fault.id === id)?.name ?? id;
}
