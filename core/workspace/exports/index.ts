// What goes out of a workspace to be analysed elsewhere: CSV, Parquet and GeoJSON of the register's rows, written part by part, so
// that a million visits need no more memory than a thousand.

export { placeRows } from './placeRows.ts';
export { readExportRows } from './readExportRows.ts';
export { RESULT_COLUMNS } from './resultColumns.ts';
export { writeCsv } from './writeCsv.ts';
export { writeGeoJson } from './writeGeoJson.ts';
export { writeParquet } from './writeParquet.ts';
