import { freezeTable } from './freezeTable.ts';
import { watchTable } from './watchTable.ts';
import { TEXT } from './words.ts';

/** A long recording is kept in pieces, as in a workspace file. */
const tables = `
CREATE TABLE recording_pieces (
  sha256 ${TEXT} NOT NULL REFERENCES recordings (sha256),
  position bigint NOT NULL CHECK (position > 0),
  compressed_bytes bytea NOT NULL,
  PRIMARY KEY (sha256, position)
);
ALTER TABLE recording_pieces ALTER COLUMN compressed_bytes SET STORAGE EXTERNAL;
`;

export const recordingPieces = {
  name: '20261128T080000_recordingPieces',
  up: tables + freezeTable('recording_pieces') + watchTable('recording_pieces', ['sha256', 'position']),
};
