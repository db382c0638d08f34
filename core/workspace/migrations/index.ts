/**
 * Migrations of the workspace file, oldest first. PRAGMA user_version holds how many of them a file has had;
 * one that was published is never changed, only followed by another.
 */
import { firstTables } from './20261125T220000_firstTables.ts';

type Migration = { readonly name: string; readonly up: string };

export const migrations: readonly Migration[] = [firstTables];
