/**
 * Migrations of the workspace file, oldest first. PRAGMA user_version holds how many of them a file has had;
 * one that was published is never changed, only followed by another.
 */
import { firstTables } from './20261125T220000_firstTables.ts';
import { rulingMarks } from './20261127T060000_rulingMarks.ts';
import { trail } from './20261127T063000_trail.ts';
import { calibrations } from './20261127T070000_calibrations.ts';
import { lessons } from './20261127T080000_lessons.ts';
import { zstandard } from './20261127T160000_zstandard.ts';
import { register } from './20261127T170000_register.ts';
import { recordingPieces } from './20261128T080000_recordingPieces.ts';
import { breakTestChoices } from './20261128T190000_breakTestChoices.ts';

type Migration = { readonly name: string; readonly up: string };

export const migrations: readonly Migration[] = [
  firstTables,
  rulingMarks,
  trail,
  calibrations,
  lessons,
  zstandard,
  register,
  recordingPieces,
  breakTestChoices,
];
