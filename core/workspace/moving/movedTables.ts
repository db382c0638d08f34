/** A table whose rows are moved, with the columns of its primary key. */
export type MovedTable = { readonly name: string; readonly keyColumns: readonly string[] };

const KEYS: Readonly<Record<string, readonly string[]>> = {
  poles: ['pole_id'],
  visits: ['visit_id'],
  recordings: ['sha256'],
  recording_pieces: ['sha256', 'position'],
  visit_recordings: ['visit_id', 'position'],
  break_test_sets: ['set_id'],
  break_tests: ['test_id'],
  break_test_choices: ['choice_id'],
  calibrations: ['calibration_id'],
  calibration_choices: ['choice_id'],
  recomputes: ['recompute_id'],
  assessments: ['assessment_id'],
  rulings: ['ruling_id'],
  ruling_marks: ['mark_id'],
  requirement_profiles: ['profile_id'],
  profile_choices: ['choice_id'],
  lessons: ['lesson_id'],
  quiz_scores: ['score_id'],
};

/** Tables whose rows the trail covers (the register's are computed from them, and are not moved), in both kinds of store, each after those that its rows name. */
export const TOLD_TABLES: readonly MovedTable[] = Object.entries(KEYS).map(([name, keyColumns]) => ({
  name,
  keyColumns,
}));

/** Tables that people fill and that the trail does not cover: choices of windows, recordings of visits not yet written down. */
export const UNTOLD_TABLES: readonly MovedTable[] = [
  { name: 'kept_choices', keyColumns: ['name'] },
  { name: 'draft_recordings', keyColumns: ['draft', 'file_name'] },
];
