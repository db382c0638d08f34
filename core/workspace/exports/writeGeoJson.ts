import type { ExportRow, Parts } from './readExportRows.ts';
import { RESULT_COLUMNS } from './resultColumns.ts';

/** Digits of a degree: a hundred-millionth is a millimetre on the ground. RFC 7946, 11.2 advises against more than are meant. */
const DEGREE_DECIMALS = 8;

/**
 * Poles as a GeoJSON collection (RFC 7946), part by part: a feature for the latest visit of each pole, with the columns of the
 * other exports as its properties. A pole whose coordinates are not known has a null geometry, as section 3.2 has it for features
 * without a place; nothing is left out. Coordinates are WGS 84 (section 4), longitude first.
 */
export async function* writeGeoJson(parts: Parts<ExportRow>): AsyncGenerator<Buffer> {
  yield Buffer.from('{"type":"FeatureCollection","features":[');
  let separator = '\n';
  for await (const part of parts) {
    const lines = part.filter(({ row }) => row.standing === 'latest').map(toFeature);
    if (lines.length === 0) continue;
    yield Buffer.from(separator + lines.join(',\n'));
    separator = ',\n';
  }
  yield Buffer.from('\n]}\n');
}

function toFeature({ row, position }: ExportRow): string {
  return JSON.stringify({
    type: 'Feature',
    geometry: position && {
      type: 'Point',
      coordinates: [position.longitude, position.latitude].map((degrees) =>
        Number(degrees.toFixed(DEGREE_DECIMALS)),
      ),
    },
    properties: Object.fromEntries(RESULT_COLUMNS.map(({ title, cell }) => [title, cell(row)])),
  });
}
