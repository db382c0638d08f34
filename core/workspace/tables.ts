import type { Generated } from 'kysely';
import type { CalibrationTables } from './calibrationTables.ts';
import type { ClassroomTables } from './classroomTables.ts';
import type { RecordingEncoding } from './compression.ts';
import type { RegisterTables } from './registerTables.ts';
import type { TrailRow } from './trail/composeEntry.ts';

/** Rows of the workspace file, as Kysely sees them; the migrations make the tables. */
export type Tables = CalibrationTables &
  ClassroomTables &
  RegisterTables & {
    poles: {
      pole_id: Generated<number>;
      code: string;
      first_seen_at: string;
    };
    visits: {
      visit_id: Generated<number>;
      pole_id: number;
      file_name: string;
      measured_on: string;
      file_bytes: Uint8Array;
      file_sha256: string;
      contents_sha256: string;
      imported_at: string;
    };
    recordings: {
      sha256: string;
      size_bytes: number;
      encoding: RecordingEncoding;
      /** The first piece. */
      compressed_bytes: Uint8Array;
      imported_at: string;
    };
    /** What follows on the bytes in `recordings`, of long ones. */
    recording_pieces: {
      sha256: string;
      position: number;
      compressed_bytes: Uint8Array;
    };
    visit_recordings: {
      visit_id: number;
      position: number;
      file_name: string;
      recording_sha256: string;
    };
    assessments: {
      assessment_id: Generated<number>;
      visit_id: number;
      created_at: string;
      program: string;
      verdict: 'assessed' | 'withheld' | 'failed';
      decisions_json: string;
      settings_json: string;
      inputs_json: string;
      inputs_sha256: string;
      result_json: string;
      summary_json: string;
      picture_brotli: Uint8Array | null;
      /** The assessment whose stem and root this one rests on; null where it has its own. */
      basis_id: number | null;
      recompute_id: number | null;
    };
    rulings: {
      ruling_id: Generated<number>;
      visit_id: number;
      assessment_id: number | null;
      decided_at: string;
      analyst: string;
      decision: string;
      reason: string;
    };
    ruling_marks: {
      mark_id: Generated<number>;
      ruling_id: number;
      kind: 'signed' | 'withdrawn';
      marked_at: string;
      person: string;
    };
    kept_choices: {
      name: string;
      choices_json: string;
      kept_at: string;
    };
    trail: TrailRow;
  };
