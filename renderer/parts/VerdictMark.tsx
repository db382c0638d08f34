import { IconArrowBackUp, IconCheck, IconHandStop } from '@tabler/icons-react';
import type { CheckVerdict } from '../types.ts';

const ICONS = { use: IconCheck, 'use with care': IconHandStop, repeat: IconArrowBackUp } as const;

/** The verdict on a strike or a check: a shape and its word, in ink. */
export function VerdictMark({ verdict }: { verdict: CheckVerdict }) {
  const Icon = ICONS[verdict];
  return (
    <span className={`verdict verdict-${verdict.replaceAll(' ', '-')}`}>
      <Icon size={14} stroke={2.2} aria-hidden />
      {verdict}
    </span>
  );
}
