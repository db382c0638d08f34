import { Button } from '@mantine/core';
import { useEffect, useMemo } from 'react';
import { ErrorNote, Waiting } from '../../parts/index.ts';
import { loudestOf } from '../../plots/index.ts';
import { type Range, useAnswer, useWindow } from '../../state/index.ts';
import { type PictureView, type Side, useClassroom } from '../classroomStore.ts';
import type { BlowPlace, LessonBlow, LessonEntry, LessonId, OpenedLesson } from '../classroomTypes.ts';
import type { Heights } from '../pictures/BlowPictures.tsx';
import { highestOf } from '../pictures/drawSpectrum.ts';
import { greatestOf } from '../pictures/drawWaveform.ts';
import { type Pictures, usePictures } from '../pictures/usePictures.ts';
import { BlowColumn } from './BlowColumn.tsx';
import { BlowSearch } from './BlowSearch.tsx';
import { chooseSides } from './chooseSides.ts';
import { LessonBlows } from './LessonBlows.tsx';
import { nameAxes } from './nameAxes.ts';
import { PictureChoice } from './PictureChoice.tsx';
import { placeOf, SideButtons } from './SideButtons.tsx';

/** Shown before the blow. */
const LEAD_S = 0.5;
const NO_HEIGHTS: Heights = { greatest: 1, highest: 1, loudest: 0 };
/** A blow laid out of a lesson is found in it by its onset. */
const SAME_ONSET_S = 0.1;

/** Two blows side by side on one time and one frequency axis, from a lesson or from the whole workspace. */
export function LookSection({ lessons }: { lessons: readonly LessonEntry[] }) {
  const { source, sides, view, takeFrom, lay, openSection } = useClassroom();
  const chosen = source ?? lessons[0]?.lessonId ?? 'workspace';
  const stored = useWindow((s) => s.stored);
  const opened = useAnswer(
    'classroom.openLesson',
    chosen === 'workspace' ? null : { lessonId: chosen },
    stored,
  );
  const lesson = chosen === 'workspace' ? null : opened.value;

  useEffect(() => {
    const laid = useClassroom.getState().sides;
    if (!lesson || laid.left || laid.right) return;
    const { left, right } = chooseSides(lesson);
    if (left) lay('left', placeOf(left));
    if (right) lay('right', placeOf(right));
  }, [lesson, lay]);

  const left = useSide(sides.left, view);
  const right = useSide(sides.right, view);
  const durationS = Math.max(
    left.description.value?.blow.durationS ?? 0,
    right.description.value?.blow.durationS ?? 0,
    1,
  );
  const whole: Range = useMemo(() => [-LEAD_S, durationS], [durationS]);
  const timeRangeS = view.timeRangeS ?? whole;
  const heights = useMemo(
    () => alignHeights(measure(left.pictures), measure(right.pictures), view.sameHeight),
    [left.pictures, right.pictures, view.sameHeight],
  );
  const axes = nameAxes(
    [left, right].map(({ pictures }) => pictures.waveform?.channels.map((c) => c.azimuthDeg) ?? []),
  );

  return (
    <div className="look">
      <aside className="look-source" aria-label="Blows to choose from">
        <label>
          <span className="visually-hidden">Take blows from</span>
          <select
            value={String(chosen)}
            onChange={(event) => takeFrom(readSource(event.currentTarget.value))}
          >
            {lessons.map(({ lessonId, title }) => (
              <option key={lessonId} value={lessonId}>
                lesson: {title}
              </option>
            ))}
            <option value="workspace">all blows of the workspace</option>
          </select>
        </label>
        {lessons.length === 0 && (
          <p className="quiet">
            There is no lesson in this workspace yet.{' '}
            <Button size="compact-xs" onClick={() => openSection('lessons')}>
              Make a lesson
            </Button>
          </p>
        )}
        {chosen === 'workspace' && (
          <BlowSearch
            actions={(blow) => (
              <SideButtons
                blow={blow}
                name={`${blow.poleId}, ${blow.exciter} at ${blow.startS.toFixed(1)} s`}
              />
            )}
          />
        )}
        {opened.failure && chosen !== 'workspace' && <ErrorNote failure={opened.failure} />}
        {chosen !== 'workspace' && !lesson && <Waiting what="Looking up the blows of the lesson." />}
        {lesson && <LessonBlows opened={lesson} />}
      </aside>
      <div className="look-main">
        <PictureChoice whole={whole} axes={axes} compares />
        <div className="blow-columns">
          {(['left', 'right'] as const).map((side) => {
            const { pictures, description } = side === 'left' ? left : right;
            return (
              <BlowColumn
                key={side}
                side={side}
                place={sides[side]}
                pictures={pictures}
                description={description.value}
                entry={lesson && findEntry(lesson, sides[side])}
                timeRangeS={timeRangeS}
                heights={heights[side]}
              />
            );
          })}
        </div>
      </div>
    </div>
  );
}

function useSide(place: BlowPlace | null, view: PictureView) {
  const pictures = usePictures(place, view);
  const description = useAnswer('classroom.describeBlow', place);
  return { pictures, description: place === null ? { ...description, value: null } : description };
}

function readSource(value: string): LessonId | 'workspace' {
  if (value === 'workspace' || value === 'first-blows') return value;
  return Number(value);
}

function measure({ waveform, spectrum, spectrogram }: Pictures): Heights {
  return {
    greatest: waveform ? greatestOf(waveform) : NO_HEIGHTS.greatest,
    highest: spectrum ? highestOf(spectrum) : NO_HEIGHTS.highest,
    loudest: spectrogram ? loudestOf(spectrogram) : NO_HEIGHTS.loudest,
  };
}

function alignHeights(left: Heights, right: Heights, same: boolean): Record<Side, Heights> {
  if (!same) return { left, right };
  const both = {
    greatest: Math.max(left.greatest, right.greatest),
    highest: Math.max(left.highest, right.highest),
    loudest: Math.max(left.loudest, right.loudest),
  };
  return { left: both, right: both };
}

function findEntry({ lesson, blows }: OpenedLesson, place: BlowPlace | null): LessonBlow | null {
  if (!place) return null;
  const index = blows.findIndex(
    ({ blow }) =>
      blow !== null &&
      blow.visitId === place.visitId &&
      blow.recording === place.recording &&
      Math.abs(blow.startS - place.startS) < SAME_ONSET_S,
  );
  return lesson.blows[index] ?? null;
}
