import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { parquetReadObjects } from 'hyparquet';
import initSqlJs from 'sql.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Cell, ColumnType, Row } from '../../server/src/core/exporting/table.ts';
import { writeCsv, writeJsonLines } from '../../server/src/host/disk/export-files.ts';
import { writeParquet } from '../../server/src/host/disk/write-parquet.ts';
import { sqliteWriter } from '../../server/src/host/disk/write-sqlite.ts';
import { arbitraryRows, rowsTable as table } from '../harness/arbitrary-rows.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { cellOfText } from '../harness/cell-of-text.ts';
import { readCsv } from '../harness/read-csv.ts';

const { columns } = table;
const wasm = createRequire(import.meta.url).resolve('sql.js/dist/sql-wasm.wasm');
const writeSqlite = sqliteWriter(wasm);
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'swaplore-export-'));
});

afterAll(() => rmSync(folder, { recursive: true }));

function rowsOf(
  records: readonly Readonly<Record<string, unknown>>[],
  toCell: (type: ColumnType, value: unknown) => Cell,
): Row[] {
  return records.map((record) => columns.map(({ name, type }) => toCell(type, record[name] ?? null)));
}

function readJsonLines(path: string): Row[] {
  const lines = readFileSync(path, 'utf8').split('\n').slice(0, -1);
  return rowsOf(
    lines.map((line) => JSON.parse(line)),
    (_, value) => value as Cell,
  );
}

function readCsvRows(path: string): Row[] {
  const [, ...records] = readCsv(readFileSync(path, 'utf8'));
  return records.map((record) => columns.map(({ type }, at) => cellOfText(type, record[at] ?? null)));
}

/** The reader's own takes a byte order mark away. */
const parsers = { stringFromBytes: (bytes: Uint8Array | undefined) => bytes && Buffer.from(bytes).toString() };

async function readParquet(path: string): Promise<Row[]> {
  const bytes = readFileSync(path);
  const file = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length);
  return rowsOf(await parquetReadObjects({ file, parsers }), (_, value) => {
    if (value instanceof Date) return value.toISOString().slice(0, 10);
    return typeof value === 'bigint' ? Number(value) : (value as Cell);
  });
}

async function readSqlite(path: string): Promise<Row[]> {
  const { Database } = await initSqlJs({ wasmBinary: Uint8Array.from(readFileSync(wasm)).buffer });
  const database = new Database(readFileSync(path));
  // As text the reader would take a byte order mark away.
  const wanted = columns.map(({ name, type }) => {
    const column = `"${name.replaceAll('"', '""')}"`;
    return type === 'text' || type === 'json' ? `CAST(${column} AS BLOB)` : column;
  });
  const [found] = database.exec(`SELECT ${wanted.join(', ')} FROM "rows"`);
  database.close();
  return (found?.values ?? []).map((values) =>
    columns.map(({ type }, at) => {
      const value = values[at] ?? null;
      if (value === null) return null;
      if (value instanceof Uint8Array) {
        const text = Buffer.from(value).toString();
        return type === 'json' ? (JSON.parse(text) as Cell) : text;
      }
      return type === 'boolean' ? value === 1 : value;
    }),
  );
}

describe('exported files', () => {
  it('what is written in any format reads back as it was, and so in every format alike', async () => {
    let run = 0;
    await assertLaw(
      60,
      fc.asyncProperty(arbitraryRows, async (rows) => {
        const path = join(folder, String(run++));
        writeJsonLines(`${path}.jsonl`, { table, rows });
        writeCsv(`${path}.csv`, { table, rows });
        writeParquet(`${path}.parquet`, { table, rows });
        await writeSqlite(`${path}.sqlite`, [{ table, rows }], new Map());
        expect(readJsonLines(`${path}.jsonl`)).toEqual(rows);
        expect(readCsvRows(`${path}.csv`)).toEqual(rows);
        expect(await readParquet(`${path}.parquet`)).toEqual(rows);
        expect(await readSqlite(`${path}.sqlite`)).toEqual(rows);
      }),
    );
  });
});
