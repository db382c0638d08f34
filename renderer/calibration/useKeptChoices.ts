import { useEffect, useRef } from 'react';
import { callHost } from '../client.ts';
import { type KeptChoices, useCalibration } from './useCalibration.ts';

const NAME = 'calibration';
/** Choices settle before they are kept: a dragged handle is one change. */
const KEEP_AFTER_MS = 600;

/** Keeps candidates, tests left out, thresholds and the profile being entered in the workspace, and brings them back at the next start. */
export function useKeptChoices(): void {
  const isRecalled = useRef(false);
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    let gone = false;
    callHost('choices.recall', { names: [NAME] }).then((answer) => {
      const kept = answer.ok ? (answer.value.choices[NAME] as Partial<KeptChoices> | undefined) : undefined;
      if (gone) return;
      if (kept && !isRecalled.current) useCalibration.getState().recall(kept);
      isRecalled.current = true;
    });
    const stop = useCalibration.subscribe((now, before) => {
      if (!isRecalled.current || sameChoices(now, before)) return;
      clearTimeout(timer);
      timer = setTimeout(
        () => void callHost('choices.keep', { name: NAME, choices: choicesOf(now) }),
        KEEP_AFTER_MS,
      );
    });
    return () => {
      gone = true;
      stop();
    };
  }, []);
}

function choicesOf({ leftOut, candidates, shown, thresholds, requirement }: KeptChoices) {
  return JSON.parse(JSON.stringify({ leftOut, candidates, shown, thresholds, requirement }));
}

function sameChoices(a: KeptChoices, b: KeptChoices): boolean {
  return (
    a.leftOut === b.leftOut &&
    a.candidates === b.candidates &&
    a.shown === b.shown &&
    a.thresholds === b.thresholds &&
    a.requirement === b.requirement
  );
}
