import {
  type BasicType,
  ByteWriter,
  type ColumnSource,
  ParquetWriter,
  schemaFromColumnData,
} from 'hyparquet-writer';
import { PROGRAM } from '../../program.ts';
import type { Parts, RowOfVisit } from './readExportRows.ts';
import { RESULT_COLUMNS, type ResultColumn } from './resultColumns.ts';

/** Rows of one row group: all that is held at once. Readers work best with groups of some ten thousand rows and more. */
const ROWS_A_GROUP = 50_000;

const TYPES: Readonly<Record<ResultColumn['kind'], BasicType>> = {
  text: 'STRING',
  number: 'DOUBLE',
  'whole number': 'INT64',
};

/** Rows of the register as one Parquet file, part by part; every column may be empty (null). Compressed by Snappy. */
export async function* writeParquet(parts: Parts<RowOfVisit>): AsyncGenerator<Buffer> {
  const writer = new ByteWriter();
  const parquet = new ParquetWriter({
    writer,
    schema: schemaFromColumnData({ columnData: toColumns([]) }),
    createdBy: PROGRAM,
  });
  let group: RowOfVisit[] = [];
  for await (const part of parts) {
    group.push(...part);
    if (group.length < ROWS_A_GROUP) continue;
    await writeGroup();
    yield take(writer);
  }
  if (group.length > 0) await writeGroup();
  await parquet.finish();
  yield take(writer);

  async function writeGroup(): Promise<void> {
    await parquet.write({ columnData: toColumns(group), rowGroupSize: group.length });
    group = [];
  }
}

function toColumns(rows: readonly RowOfVisit[]): ColumnSource[] {
  return RESULT_COLUMNS.map(({ title, kind, cell }) => ({
    name: title,
    type: TYPES[kind],
    data: rows.map(({ row }) => {
      const value = cell(row);
      return kind === 'whole number' && value !== null ? BigInt(value) : value;
    }),
  }));
}

/** The bytes written since they were last taken; places in the file are counted on. */
function take(writer: ByteWriter): Buffer {
  const bytes = Buffer.from(writer.getBuffer());
  writer.index = 0;
  return bytes;
}
