import type { Generated } from 'kysely';

/** Rows of break tests, calibrations, recomputes and requirement profiles, as Kysely sees them. */
export type CalibrationTables = {
  break_test_sets: {
    set_id: Generated<number>;
    file_name: string;
    csv_brotli: Uint8Array;
    csv_sha256: string;
    mapping_json: string;
    contents_sha256: string;
    refused_json: string;
    kept_at: string;
  };
  break_tests: {
    test_id: Generated<number>;
    set_id: number;
    line: number;
    pole_code: string;
    test_json: string;
  };
  break_test_choices: {
    choice_id: Generated<number>;
    test_id: number;
    standing: 'in use' | 'set aside';
    chosen_at: string;
    chosen_by: string;
    reason: string;
  };
  calibrations: {
    calibration_id: Generated<number>;
    name: string;
    number: number;
    document_json: string;
    document_sha256: string;
    origin: 'published' | 'imported';
    added_at: string;
  };
  calibration_choices: {
    choice_id: Generated<number>;
    calibration_id: number | null;
    chosen_at: string;
    chosen_by: string;
    reason: string;
  };
  recomputes: {
    recompute_id: Generated<number>;
    calibration_id: number | null;
    calibration: string;
    started_at: string;
    completed_at: string;
    asked_by: string;
    left_json: string;
  };
  requirement_profiles: {
    profile_id: Generated<number>;
    name: string;
    number: number;
    profile_json: string;
    author: string;
    kept_at: string;
  };
  profile_choices: {
    choice_id: Generated<number>;
    pole_id: number;
    profile_id: number | null;
    chosen_at: string;
    chosen_by: string;
  };
};
