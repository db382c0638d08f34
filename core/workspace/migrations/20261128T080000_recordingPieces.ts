import { freezeTable } from './freezeTable.ts';

/**
 * A long recording is kept in pieces: it is unfolded through little memory, and no field outgrows what a database holds. The first
 * stands in `recordings`, where those of earlier forms stand as a whole.
 */
const tables = `
CREATE TABLE recording_pieces (
  sha256 TEXT NOT NULL REFERENCES recordings (sha256),
  position INTEGER NOT NULL CHECK (position > 0),
  compressed_bytes BLOB NOT NULL,
  PRIMARY KEY (sha256, position)
) STRICT;
`;

export const recordingPieces = {
  name: '20261128T080000_recordingPieces',
  up: tables + freezeTable('recording_pieces', 'sha256 = NEW.sha256 AND position = NEW.position'),
};
