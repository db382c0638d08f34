import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';
import { calibrationDocumentSchema } from './calibrationDocument.ts';

const SCHEMA_FILE = fileURLToPath(new URL('./calibration.schema.json', import.meta.url));

/** Text of the JSON Schema of a calibration, from the zod schema. */
export function formatCalibrationSchema(): string {
  return `${JSON.stringify(z.toJSONSchema(calibrationDocumentSchema), null, 2)}\n`;
}

// Run as a program, `node core/strength/relation/writeCalibrationSchema.ts` renews the kept schema; a test holds the two together.
if (process.argv[1] === fileURLToPath(import.meta.url)) {
  writeFileSync(SCHEMA_FILE, formatCalibrationSchema());
}
