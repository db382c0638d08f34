import type { Kysely } from 'kysely';
import { InputError, StoreError } from '../../errors.ts';
import { hashSha256 } from '../../hashSha256.ts';
import {
  type Calibration,
  type CalibrationDocument,
  calibrationFromDocument,
  calibrationLabel,
  handbookCalibration,
  weaknessesOf,
} from '../../strength/index.ts';
import type { Tables } from '../tables.ts';
import { tellConflict } from '../tellConflict.ts';
import { appendTrail, findWriter } from '../trail/index.ts';
import { refuseOvertakenTests } from './breakTestChoices.repository.ts';
import { choiceOf, requireReason } from './requireReason.ts';

type Db = Kysely<Tables>;

/** A calibration of this workspace; the handbook's is in every workspace and has no row of its own. */
export type KeptCalibration = {
  readonly calibrationId: number | null;
  readonly label: string;
  /** Of the document as it is kept; null: the handbook's. */
  readonly sha256: string | null;
  readonly document: CalibrationDocument | null;
  readonly calibration: Calibration;
};

export type ListedCalibration = {
  calibrationId: number;
  document: CalibrationDocument;
  documentSha256: string;
  origin: 'published' | 'imported';
  addedAt: string;
};

export const HANDBOOK: KeptCalibration = {
  calibrationId: null,
  label: calibrationLabel(handbookCalibration),
  sha256: null,
  document: null,
  calibration: handbookCalibration,
};

/** Every published or imported calibration, oldest first. */
export async function listCalibrations(db: Db): Promise<ListedCalibration[]> {
  const rows = await db.selectFrom('calibrations').selectAll().orderBy('calibration_id').execute();
  return rows.map((row) => ({
    calibrationId: row.calibration_id,
    document: JSON.parse(row.document_json),
    documentSha256: row.document_sha256,
    origin: row.origin,
    addedAt: row.added_at,
  }));
}

/** @param calibrationId - null: the handbook's. @throws InputError `calibration.unknown` */
export async function getCalibration(db: Db, calibrationId: number | null): Promise<KeptCalibration> {
  if (calibrationId === null) return HANDBOOK;
  const { document, sha256 } = await getDocument(db, calibrationId);
  const calibration = calibrationFromDocument(document);
  return { calibrationId, label: calibrationLabel(calibration), sha256, document, calibration };
}

/**
 * A kept document with its text as it was stored.
 * @throws InputError `calibration.unknown`; StoreError `store.damaged` where it is not what was kept
 */
export async function getDocument(
  db: Db,
  calibrationId: number,
): Promise<{ document: CalibrationDocument; text: string; sha256: string }> {
  const row = await db
    .selectFrom('calibrations')
    .select(['document_json', 'document_sha256'])
    .where('calibration_id', '=', calibrationId)
    .executeTakeFirst();
  if (!row) {
    throw new InputError(
      'calibration.unknown',
      `There is no calibration ${calibrationId} in this workspace.`,
      'List the calibrations for those that are there.',
    );
  }
  const { document_json: text, document_sha256: sha256 } = row;
  if (hashSha256(text) !== sha256) {
    throw new StoreError(
      'store.damaged',
      `Calibration ${calibrationId} in the workspace is not what was kept.`,
      'Look into the file with: npm run -s stemroot -- care prove <workspace>',
    );
  }
  return { document: JSON.parse(text), text, sha256 };
}

/**
 * Keeps a calibration for good. The very same document again is found, not kept twice.
 * @param despite - why it is published in spite of its weaknesses; kept in the trail
 * @throws InputError `calibration.taken` where another one has this name and version; StoreError `store.conflict`
 */
export async function insertCalibration(
  db: Db,
  document: CalibrationDocument,
  origin: 'published' | 'imported',
  { seen, despite = '' }: { seen?: SeenForPublishing | undefined; despite?: string } = {},
): Promise<{ calibrationId: number; isNew: boolean }> {
  const text = JSON.stringify(document);
  const documentSha256 = hashSha256(text);
  return db.transaction().execute(async (transaction) => {
    if (seen) await refuseOvertakenPublication(transaction, document.name, seen);
    const same = await transaction
      .selectFrom('calibrations')
      .select(['calibration_id', 'document_sha256'])
      .where('name', '=', document.name)
      .where('number', '=', document.number)
      .executeTakeFirst();
    if (same?.document_sha256 === documentSha256) {
      return { calibrationId: same.calibration_id, isNew: false };
    }
    if (same) {
      throw new InputError(
        'calibration.taken',
        `This workspace has another calibration ${document.name}@${document.number}; a published one never changes.`,
        'Publish under another name or the next version.',
      );
    }
    const { calibration_id } = await transaction
      .insertInto('calibrations')
      .values({
        name: document.name,
        number: document.number,
        document_json: text,
        document_sha256: documentSha256,
        origin,
        added_at: new Date().toISOString(),
      })
      .returning('calibration_id')
      .executeTakeFirstOrThrow();
    await appendTrail(transaction, {
      action: 'publish',
      subject: `calibration ${document.name}@${document.number}${origin === 'imported' ? ', imported' : ''}`,
      after: {
        documentSha256,
        dataSha256: document.dataSha256,
        author: document.author,
        weaknesses: weaknessesOf(document).map(({ id }) => id),
      },
      why: despite === '' ? document.note : `${document.note} (in spite of its weaknesses: ${despite})`,
    });
    return { calibrationId: calibration_id, isNew: true };
  });
}

/** What was there when a relation was looked at that is to be published. */
export type SeenForPublishing = {
  /** The set of break tests that was kept last; null: none. */
  setId: number | null;
  /** The last choice of tests to be in use or set aside; 0: none. */
  choice: number;
  /** The last version of the name; 0: none. */
  number: number;
};

/** @throws StoreError `store.conflict` where break tests or a version of the name were added, or tests set aside or taken up since */
async function refuseOvertakenPublication(db: Db, name: string, seen: SeenForPublishing): Promise<void> {
  const last = await db
    .selectFrom('break_test_sets')
    .select(['set_id', 'file_name'])
    .orderBy('set_id', 'desc')
    .limit(1)
    .executeTakeFirst();
  if (last && last.set_id !== seen.setId) {
    throw tellConflict(
      'The break tests that the relation rests on',
      seen.setId === null ? 'none' : `up to set ${seen.setId}`,
      {
        words: `up to set ${last.set_id} (${last.file_name})`,
        ...(await findWriter(db, 'break_test_sets', last.set_id)),
      },
    );
  }
  await refuseOvertakenTests(db, seen.choice, { seen: 'as they were listed' });
  const number = (await nextNumber(db, name)) - 1;
  if (number === seen.number) return;
  const newest = await db
    .selectFrom('calibrations')
    .select(['document_json', 'added_at'])
    .where('name', '=', name)
    .where('number', '=', number)
    .executeTakeFirstOrThrow();
  const { author } = JSON.parse(newest.document_json) as CalibrationDocument;
  throw tellConflict(`The last version of ${name}`, seen.number === 0 ? 'none' : `${name}@${seen.number}`, {
    words: `${name}@${number}`,
    by: author,
    at: newest.added_at,
  });
}

/** The calibration that a result names by its label; undefined where this workspace has none of it. */
export async function findCalibrationByLabel(db: Db, label: string): Promise<Calibration | undefined> {
  if (label === HANDBOOK.label) return HANDBOOK.calibration;
  const [name, number] = label.split('@');
  const row = await db
    .selectFrom('calibrations')
    .select('calibration_id')
    .where('name', '=', name!)
    .where('number', '=', Number(number))
    .executeTakeFirst();
  return row && (await getCalibration(db, row.calibration_id)).calibration;
}

/** The version that a calibration of this name gets next. */
export async function nextNumber(db: Db, name: string): Promise<number> {
  const row = await db
    .selectFrom('calibrations')
    .select((eb) => eb.fn.max('number').as('last'))
    .where('name', '=', name)
    .executeTakeFirst();
  return (row?.last ?? 0) + 1;
}

export type CalibrationChoice = {
  calibrationId: number | null;
  chosenAt: string;
  chosenBy: string;
  reason: string;
};

/** Which calibration new assessments took, newest choice first; before the first choice it is the handbook's. */
export async function listChoices(db: Db): Promise<CalibrationChoice[]> {
  const rows = await db.selectFrom('calibration_choices').selectAll().orderBy('choice_id', 'desc').execute();
  return rows.map((row) => ({
    calibrationId: row.calibration_id,
    chosenAt: row.chosen_at,
    chosenBy: row.chosen_by,
    reason: row.reason,
  }));
}

/** The calibration that new assessments take. */
export async function findCalibrationInForce(db: Db): Promise<KeptCalibration> {
  const row = await db
    .selectFrom('calibration_choices')
    .select('calibration_id')
    .orderBy('choice_id', 'desc')
    .limit(1)
    .executeTakeFirst();
  return getCalibration(db, row?.calibration_id ?? null);
}

/**
 * Has new assessments take a calibration from now on.
 * @param choice.seenInForce - the one in force when it was chosen; absent: nobody looked
 * @throws InputError `calibration.unknown`, `calibration.reason` where it has weaknesses and no reason is given; StoreError `store.conflict` where
 * another is in force than was seen
 */
export async function chooseCalibration(
  db: Db,
  calibrationId: number | null,
  choice: { chosenBy: string; reason: string; seenInForce?: number | null | undefined },
): Promise<void> {
  const { chosenBy, reason, seenInForce } = choice;
  const { label, document } = await getCalibration(db, calibrationId);
  const weaknesses = document ? weaknessesOf(document) : [];
  requireReason(label, weaknesses, reason, 'why it is used');
  await db.transaction().execute(async (transaction) => {
    const before = await findCalibrationInForce(transaction);
    if (seenInForce !== undefined && seenInForce !== before.calibrationId) {
      const seen = await getCalibration(transaction, seenInForce);
      const [last] = await listChoices(transaction);
      throw tellConflict('The calibration for new results', seen.label, {
        words: before.label,
        by: last?.chosenBy,
        at: last?.chosenAt,
      });
    }
    await transaction
      .insertInto('calibration_choices')
      .values({
        calibration_id: calibrationId,
        chosen_at: new Date().toISOString(),
        chosen_by: chosenBy,
        reason,
      })
      .execute();
    await appendTrail(transaction, {
      ...choiceOf(label),
      who: chosenBy,
      before: before.label,
      // what the reason answers: one that was given before anybody asked answers nothing
      after: weaknesses.length === 0 ? label : { label, weaknesses: weaknesses.map(({ id }) => id) },
      why: reason,
    });
  });
}
