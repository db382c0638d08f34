import { createHash } from 'node:crypto';
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type Lesson, lessonSchema } from '../core/classroom/index.ts';
import { makeVisit } from './makeVisit.ts';
import { inventPole } from './place.ts';
import { STORIES } from './stories.ts';

const LESSON_FILE = fileURLToPath(
  new URL('../core/workspace/classroom/first-blows.lesson.json', import.meta.url),
);

type Pick = {
  readonly pole: string;
  readonly by: 'hammer' | 'hand';
  readonly strike: number;
  readonly use: Lesson['blows'][number]['use'];
  readonly title: string;
  readonly note: string;
};

const NOTES =
  'Every fault that the program checks, beside good blows. The poles and the recordings are invented, so what is truly wrong ' +
  'with each blow is known. Where the checks say something else than the truth, the lesson shows both.';

/** Blows of the invented poles, in the order of the lesson. */
// biome-ignore format: one blow a line reads as a table.
const PICKS: readonly Pick[] = [
  { pole: 'KV-0101', by: 'hammer', strike: 0, use: 'show and ask', title: 'A good blow by hammer', note: 'Quiet before, one sharp start, both axes alike, and a smooth ring-down until the pole is at rest. Modes 2 and 3 stand clear of the floor.' },
  { pole: 'KV-0101', by: 'hand', strike: 0, use: 'show and ask', title: 'A good blow by hand', note: 'The slow push of a hand swings mode 1, which a hammer hardly reaches. The ring-down is long and slow.' },
  { pole: 'KV-0109', by: 'hammer', strike: 0, use: 'show and ask', title: 'Clipping', note: 'Look at the first hundredths of a second: the tops stand at the end of the range.' },
  { pole: 'KV-0110', by: 'hammer', strike: 1, use: 'show and ask', title: 'A hammer that bounced', note: 'The second impact comes so soon that the ear takes both for one.' },
  { pole: 'KV-0110', by: 'hand', strike: 1, use: 'ask', title: 'A hand that pushed twice', note: '' },
  { pole: 'KV-0306', by: 'hammer', strike: 0, use: 'show and ask', title: 'Too soft a blow', note: 'The same noise is in every recording. Here the blow hardly rises above it.' },
  { pole: 'KV-0306', by: 'hand', strike: 1, use: 'show and ask', title: 'Stopped too soon', note: 'About two swings of mode 1 were kept, so its damping can only be guessed.' },
  { pole: 'KV-0111', by: 'hammer', strike: 0, use: 'show and ask', title: 'A tap near the ground', note: 'Good for modes 2 and 3. It needs a blow by hand beside it.' },
  { pole: 'KV-0209', by: 'hammer', strike: 0, use: 'show and ask', title: 'Struck along one axis', note: 'A blow at 45 degrees to both axes moves both.' },
  { pole: 'KV-0112', by: 'hand', strike: 0, use: 'show and ask', title: 'Hum of the mains', note: 'The lines go on when the pole is long at rest: no pole does that.' },
  { pole: 'KV-0207', by: 'hammer', strike: 0, use: 'show and ask', title: 'A loose strap', note: 'Played aloud, the taps are plain to the ear.' },
  { pole: 'KV-0208', by: 'hand', strike: 0, use: 'show and ask', title: 'A sensor off its zero', note: 'The blow itself is good. Give the sensor time to settle.' },
  { pole: 'KV-0305', by: 'hand', strike: 0, use: 'show', title: 'A sensor that does not hear low tones', note: 'Compare it with the good blow by hand: mode 1 is far smaller, and no better push will raise it.' },
  { pole: 'KV-0304', by: 'hammer', strike: 0, use: 'show', title: 'Two blows that disagree: the first', note: 'Lay it beside the next one.' },
  { pole: 'KV-0304', by: 'hammer', strike: 1, use: 'show', title: 'Two blows that disagree: the second', note: 'A ladder leant on the pole at this blow.' },
  { pole: 'KV-0102', by: 'hammer', strike: 0, use: 'ask', title: 'A good blow by hammer', note: '' },
  { pole: 'KV-0202', by: 'hand', strike: 1, use: 'ask', title: 'A good blow by hand', note: '' },
  { pole: 'KV-0401', by: 'hand', strike: 0, use: 'ask', title: 'Clipping all through', note: '' },
];

/**
 * Makes the lesson that comes with the program, from the invented poles whose truth is known. It names recordings by the
 * hash of their bytes, so it changes whenever the samples do.
 */
export function makeFirstBlows(): Lesson {
  return lessonSchema.parse({
    format: 'stemroot-lesson',
    version: 1,
    title: 'First blows',
    maker: 'comes with the program',
    notes: NOTES,
    blows: PICKS.map((pick) => {
      const story = STORIES.find(({ id }) => id === pick.pole)!;
      const { visit, recordings, truth } = makeVisit(inventPole(story), story.visits[0]!);
      const index = recordings.findIndex(({ exciter }) => exciter === pick.by);
      const { file, bytes } = recordings[index]!;
      const { startS, faults } = truth.recordings[index]!.strikes[pick.strike]!;
      return {
        recordingSha256: createHash('sha256').update(bytes).digest('hex'),
        recordingFile: file,
        poleId: pick.pole,
        visitDate: visit.measured.date,
        startS,
        title: pick.title,
        note: pick.note,
        use: pick.use,
        statedFaults: [...faults],
      };
    }),
  });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  writeFileSync(LESSON_FILE, `${JSON.stringify(makeFirstBlows(), null, 2)}\n`);
}
