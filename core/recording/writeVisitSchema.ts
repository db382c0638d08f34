import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';
import { visitFileSchema } from './visitFile.ts';

const SCHEMA_FILE = fileURLToPath(new URL('./visit.schema.json', import.meta.url));

/**
 * Text of the JSON Schema of the visit file as a person writes it (defaults optional), from the zod schema.
 */
export function formatVisitSchema(): string {
  return `${JSON.stringify(z.toJSONSchema(visitFileSchema, { io: 'input' }), null, 2)}\n`;
}

// Run as a program, `node core/recording/writeVisitSchema.ts` renews the kept schema; a test holds the two
// together.
if (process.argv[1] === fileURLToPath(import.meta.url)) {
  writeFileSync(SCHEMA_FILE, formatVisitSchema());
}
