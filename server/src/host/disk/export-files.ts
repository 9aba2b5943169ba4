/**
 * Tables as files.
 * Laws (test/property/export-files.property.test.ts):
 * - what is written in any format reads back as it was, and so in every format alike
 */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { csvHeader, csvLine } from '../../core/exporting/csv-text.ts';
import type { Reference } from '../../core/exporting/held-references.ts';
import { jsonLine } from '../../core/exporting/json-line.ts';
import type { Row, Table } from '../../core/exporting/table.ts';
import { writeLines } from './write-lines.ts';

/** A table with its rows, which can be gone through once. */
export interface FilledTable {
  readonly table: Table;
  readonly rows: Iterable<Row>;
}

/** The formats that need libraries of their own. */
export interface LibraryFormats {
  /** Writes a table into a new Parquet file. */
  readonly writeParquet: (path: string, filled: FilledTable) => void;
  /** Writes tables into a new SQLite database, with these references as foreign keys. */
  readonly writeSqlite: (
    path: string,
    tables: readonly FilledTable[],
    references: ReadonlyMap<string, readonly Reference[]>,
  ) => Promise<void>;
}

/** Writes a table as CSV into a new file. */
export function writeCsv(path: string, { table, rows }: FilledTable): void {
  writeLines(path, csvLines({ table, rows }));
}

function* csvLines({ table, rows }: FilledTable): Generator<string> {
  yield csvHeader(table.columns);
  for (const row of rows) yield csvLine(row);
}

/** Writes a table as lines of JSON into a new file. */
export function writeJsonLines(path: string, { table, rows }: FilledTable): void {
  writeLines(path, jsonLines({ table, rows }));
}

function* jsonLines({ table, rows }: FilledTable): Generator<string> {
  for (const row of rows) yield jsonLine(table.columns, row);
}

/** Makes a folder with one file a table, named for it. */
export function writeFolder(
  folder: string,
  tables: readonly FilledTable[],
  { ending, write }: { readonly ending: string; readonly write: (path: string, filled: FilledTable) => void },
): void {
  mkdirSync(folder);
  for (const filled of tables) write(join(folder, `${filled.table.name}.${ending}`), filled);
}
