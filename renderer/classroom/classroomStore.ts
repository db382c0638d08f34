import { create } from 'zustand';
import type { Range } from '../state/index.ts';
import type { BlowPlace, LessonId } from './classroomTypes.ts';
import { SPEEDS, type Speed } from './sound/prepareSound.ts';

export const SECTIONS = ['look', 'lessons', 'quiz', 'scores'] as const;
export type Section = (typeof SECTIONS)[number];

export const PICTURES = ['waveform', 'spectrum', 'spectrogram'] as const;
export type Picture = (typeof PICTURES)[number];

export type Side = 'left' | 'right';

/** How blows are drawn; the same for both sides, so that they can be compared. */
export type PictureView = {
  pictures: readonly Picture[];
  /** From the onset; null: all of it. */
  timeRangeS: Range | null;
  frequencyRangeHz: Range;
  /** Both sides up to the same height, or each up to its own. */
  sameHeight: boolean;
  /** Index of the axis that spectrogram and sound are of. */
  channel: number;
  sharpIn: 'frequency' | 'time';
};

/** Most faults show within the first seconds. */
const FIRST_TIME_RANGE_S: Range = [-0.2, 3];
/** Four bending modes of nearly every pole lie below this. */
export const FIRST_FREQUENCY_RANGE_HZ: Range = [0, 60];

export const FIRST_RANGES: Pick<PictureView, 'timeRangeS' | 'frequencyRangeHz'> = {
  timeRangeS: FIRST_TIME_RANGE_S,
  frequencyRangeHz: FIRST_FREQUENCY_RANGE_HZ,
};

type ClassroomChoices = {
  section: Section;
  /** Where blows to look at come from; null: the first lesson, or the workspace where there is none. */
  source: LessonId | 'workspace' | null;
  sides: Readonly<Record<Side, BlowPlace | null>>;
  view: PictureView;
  /** What was shown before a fault was zoomed on; another blow brings it back. */
  beforeZoom: PictureView | null;
  marks: boolean;
  sound: boolean;
  speed: Speed;
  /** The lesson that is open among the lessons. */
  lessonId: LessonId | null;
  openSection(section: Section): void;
  takeFrom(source: LessonId | 'workspace'): void;
  lay(side: Side, place: BlowPlace | null): void;
  look(change: Partial<PictureView>): void;
  /** Shows a fault from near, until another blow is laid. */
  zoom(change: Partial<PictureView>): void;
  set(change: Partial<Pick<ClassroomChoices, 'marks' | 'sound' | 'speed' | 'lessonId'>>): void;
};

/** Choices of the classroom. Sound is off until somebody asks for it. */
export const useClassroom = create<ClassroomChoices>()((set) => ({
  section: 'look',
  source: null,
  sides: { left: null, right: null },
  view: {
    pictures: PICTURES,
    ...FIRST_RANGES,
    sameHeight: false,
    channel: 0,
    sharpIn: 'frequency',
  },
  beforeZoom: null,
  marks: true,
  sound: false,
  speed: SPEEDS[1],
  lessonId: null,
  openSection: (section) => set({ section }),
  takeFrom: (source) => set({ source, sides: { left: null, right: null } }),
  lay: (side, place) =>
    set(({ sides, view, beforeZoom }) => ({
      sides: { ...sides, [side]: place },
      view: beforeZoom ?? view,
      beforeZoom: null,
    })),
  look: (change) => set(({ view }) => ({ view: { ...view, ...change }, beforeZoom: null })),
  zoom: (change) =>
    set(({ view, beforeZoom }) => ({
      view: { ...(beforeZoom ?? view), ...change },
      beforeZoom: beforeZoom ?? view,
    })),
  set: (change) => set(change),
}));
