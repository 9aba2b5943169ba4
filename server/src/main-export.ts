/** The formats of `swaplore export` that need libraries of their own. No other command loads this file. */
import { join } from 'node:path';
import type { LibraryFormats } from './host/disk/export-files.ts';
import { writeParquet } from './host/disk/write-parquet.ts';
import { sqliteWriter } from './host/disk/write-sqlite.ts';

/** What the command asks for by name. */
export const formats: LibraryFormats = { writeParquet, writeSqlite: sqliteWriter(join(__dirname, 'sql-wasm.wasm')) };
