/** What a connection may do in a team store, each with all that comes before it. */
export type Right = 'read' | 'analyse' | 'publish';

/** Roles of the database server whose members have these rights. */
export const ROLES: Readonly<Record<Right, string>> = {
  read: 'stemroot_read',
  analyse: 'stemroot_analyse',
  publish: 'stemroot_publish',
};

/** Tables that an analyst adds to, and whose rows nobody changes. */
const ADDED_TO_BY_ANALYSTS = [
  ...['poles', 'visits', 'recordings', 'recording_pieces', 'visit_recordings', 'trail'],
  ...['assessments', 'rulings', 'ruling_marks'],
  ...['break_test_sets', 'break_tests', 'break_test_choices', 'requirement_profiles', 'profile_choices'],
];
/** Tables whose rows come and go. */
const CHANGED_BY_ANALYSTS = [
  ...['kept_choices', 'draft_recordings', 'lessons'],
  // computed from all else, by whoever stores what changes it
  ...['register_rows', 'register_texts', 'register_facets', 'register_stale', 'register_state'],
  ...['register_bounds', 'register_counts'],
];
/** What decides by which calibration results are computed. */
const ADDED_TO_BY_PUBLISHERS = ['calibrations', 'calibration_choices', 'recomputes'];

/**
 * Functions that run with the rights of the keeper are run by the triggers of their tables, which need no right to it, and by nobody
 * else: a trigger on a table of one's own could have the trail take a change for told.
 */
const LEND_NO_RIGHTS = `
DO $$
DECLARE lending regprocedure;
BEGIN
  FOR lending IN SELECT oid FROM pg_proc WHERE pronamespace = 'stemroot'::regnamespace AND prosecdef LOOP
    EXECUTE format('REVOKE EXECUTE ON FUNCTION %s FROM PUBLIC', lending);
  END LOOP;
END $$;
`;

/** SQL that grants each role what it may do and no more; to be run again after every change of the tables. */
export const GRANTS = `
REVOKE ALL ON SCHEMA stemroot FROM PUBLIC;
REVOKE ALL ON ALL TABLES IN SCHEMA stemroot FROM PUBLIC, ${Object.values(ROLES).join(', ')};
GRANT ${ROLES.read} TO ${ROLES.analyse};
GRANT ${ROLES.analyse} TO ${ROLES.publish};
GRANT USAGE ON SCHEMA stemroot TO ${ROLES.read};
GRANT SELECT ON ALL TABLES IN SCHEMA stemroot TO ${ROLES.read};
GRANT INSERT ON ${ADDED_TO_BY_ANALYSTS.join(', ')} TO ${ROLES.analyse};
GRANT INSERT, UPDATE, DELETE ON ${CHANGED_BY_ANALYSTS.join(', ')} TO ${ROLES.analyse};
GRANT INSERT, DELETE ON quiz_scores TO ${ROLES.analyse};
GRANT INSERT ON ${ADDED_TO_BY_PUBLISHERS.join(', ')} TO ${ROLES.publish};
${LEND_NO_RIGHTS}`;
