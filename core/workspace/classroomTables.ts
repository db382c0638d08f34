import type { Generated } from 'kysely';

/** Rows of the classroom, and of visits that are still being written down. */
export type ClassroomTables = {
  lessons: {
    lesson_id: Generated<number>;
    lesson_json: string;
    changed_at: string;
  };
  quiz_scores: {
    score_id: Generated<number>;
    trainee: string;
    graded_at: string;
    lesson_title: string;
    lesson_sha256: string;
    grading_json: string;
  };
  draft_recordings: {
    draft: string;
    file_name: string;
    sha256: string;
    bytes: Uint8Array;
    attached_at: string;
  };
};
