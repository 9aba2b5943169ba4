import { readFileSync } from 'node:fs';
import initSqlJs, { type SqlValue } from 'sql.js';
import { createTable, insertRow } from '../../core/exporting/sql-text.ts';
import type { Cell } from '../../core/exporting/table.ts';
import type { LibraryFormats } from './export-files.ts';
import { writeBytes } from './write-lines.ts';

/**
 * What writes tables into a new SQLite database, by the library whose WebAssembly is in this file. The database is made in memory and
 * then written by the system, which says why where it cannot.
 */
export function sqliteWriter(wasm: string): LibraryFormats['writeSqlite'] {
  return async (path, tables, references) => {
    const { Database } = await initSqlJs({ wasmBinary: Uint8Array.from(readFileSync(wasm)).buffer });
    const database = new Database();
    try {
      database.run('BEGIN');
      for (const { table, rows } of tables) {
        database.run(createTable(table, references.get(table.name) ?? []));
        const insert = database.prepare(insertRow(table));
        for (const row of rows) insert.run(row.map(stored));
        insert.free();
      }
      database.run('COMMIT');
      writeBytes(path, database.export());
    } finally {
      database.close();
    }
  };
}

function stored(cell: Cell): SqlValue {
  if (typeof cell === 'boolean') return cell ? 1 : 0;
  return typeof cell === 'object' && cell !== null ? JSON.stringify(cell) : cell;
}
