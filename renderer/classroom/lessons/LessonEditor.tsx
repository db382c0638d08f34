import { ActionIcon, Textarea, TextInput } from '@mantine/core';
import { IconArrowDown, IconArrowUp, IconTrash } from '@tabler/icons-react';
import { useEffect, useRef } from 'react';
import type { Lesson, LessonBlow } from '../classroomTypes.ts';
import { changeBlow, moveBlow, removeBlow } from './lessonDraft.ts';
import { StatedFaults } from './StatedFaults.tsx';

type LessonEditorProps = { lesson: Lesson; onChange(lesson: Lesson): void };

const USES: readonly LessonBlow['use'][] = ['show and ask', 'show', 'ask'];

/** Title, notes and blows of a lesson, to be changed. */
export function LessonEditor({ lesson, onChange }: LessonEditorProps) {
  const listRef = useRef<HTMLOListElement>(null);
  /** The button that takes the keyboard after a blow has moved with it. */
  const focusRef = useRef<string | null>(null);
  useEffect(() => {
    if (focusRef.current === null) return;
    const wanted = listRef.current?.querySelector<HTMLElement>(focusRef.current);
    (wanted ?? listRef.current)?.focus();
    focusRef.current = null;
  });

  function move(index: number, by: -1 | 1): void {
    focusRef.current = `[data-move="${index + by} ${by}"]`;
    onChange(moveBlow(lesson, index, by));
  }
  function remove(index: number): void {
    focusRef.current = `[data-remove="${Math.min(index, lesson.blows.length - 2)}"]`;
    onChange(removeBlow(lesson, index));
  }
  const set = (change: Partial<Lesson>) => onChange({ ...lesson, ...change });

  return (
    <div className="lesson-editor">
      <div className="lesson-fields">
        <TextInput
          size="xs"
          label="Title"
          value={lesson.title}
          error={lesson.title.trim() === '' ? 'A lesson needs a title.' : undefined}
          onChange={(event) => set({ title: event.currentTarget.value })}
        />
        <TextInput
          size="xs"
          label="Made by"
          value={lesson.maker}
          onChange={(event) => set({ maker: event.currentTarget.value })}
        />
      </div>
      <Textarea
        size="xs"
        label="Notes"
        autosize
        minRows={2}
        maxRows={5}
        value={lesson.notes}
        onChange={(event) => set({ notes: event.currentTarget.value })}
      />
      <h2>Blows, in order</h2>
      {lesson.blows.length === 0 && <p className="quiet">None yet: add some from the list at the right.</p>}
      <ol className="lesson-blows" aria-label="Blows of this lesson" ref={listRef} tabIndex={-1}>
        {lesson.blows.map((blow, i) => {
          const name = `blow ${i + 1}`;
          const change = (part: Partial<LessonBlow>) => onChange(changeBlow(lesson, i, part));
          return (
            <li key={`${blow.recordingSha256} ${blow.startS}`}>
              <div className="lesson-blow-head">
                <span className="quiet">
                  {i + 1}. {blow.poleId}, {blow.recordingFile} at {blow.startS.toFixed(1)} s
                </span>
                <span className="spring" />
                <select
                  aria-label={`Use of ${name}`}
                  value={blow.use}
                  onChange={(event) => change({ use: event.currentTarget.value as LessonBlow['use'] })}
                >
                  {USES.map((use) => (
                    <option key={use} value={use}>
                      {USE_WORDS[use]}
                    </option>
                  ))}
                </select>
                <ActionIcon
                  variant="default"
                  size={24}
                  data-move={`${i} -1`}
                  aria-label={`Move ${name} up`}
                  disabled={i === 0}
                  onClick={() => move(i, -1)}
                >
                  <IconArrowUp size={14} />
                </ActionIcon>
                <ActionIcon
                  variant="default"
                  size={24}
                  data-move={`${i} 1`}
                  aria-label={`Move ${name} down`}
                  disabled={i === lesson.blows.length - 1}
                  onClick={() => move(i, 1)}
                >
                  <IconArrowDown size={14} />
                </ActionIcon>
                <ActionIcon
                  variant="default"
                  size={24}
                  data-remove={i}
                  aria-label={`Take ${name} out`}
                  onClick={() => remove(i)}
                >
                  <IconTrash size={14} />
                </ActionIcon>
              </div>
              <TextInput
                size="xs"
                aria-label={`Title of ${name}`}
                placeholder="What this blow teaches"
                value={blow.title}
                onChange={(event) => change({ title: event.currentTarget.value })}
              />
              <Textarea
                size="xs"
                aria-label={`Note on ${name}`}
                placeholder="Note"
                autosize
                minRows={1}
                maxRows={4}
                value={blow.note}
                onChange={(event) => change({ note: event.currentTarget.value })}
              />
              <StatedFaults
                name={name}
                stated={blow.statedFaults}
                onChange={(statedFaults) => change({ statedFaults })}
              />
            </li>
          );
        })}
      </ol>
    </div>
  );
}

const USE_WORDS: Readonly<Record<LessonBlow['use'], string>> = {
  'show and ask': 'in lesson and quiz',
  show: 'in the lesson only',
  ask: 'in the quiz only',
};
