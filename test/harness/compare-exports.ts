import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { exportTables } from '../../server/src/core/exporting/export-tables.ts';
import type { Column, ColumnType, Table } from '../../server/src/core/exporting/table.ts';
import { keyNodes } from '../../server/src/core/schema/key-rows.ts';
import { openDuckdb } from './duckdb.ts';

/** Debian's program. */
export const sqlite3 = '/usr/bin/sqlite3';

/** The formats of `export`; in a folder that is compared each export is named for its own. */
export const exportFormats = ['jsonl', 'csv', 'parquet', 'sqlite'] as const;

type Ask = Awaited<ReturnType<typeof openDuckdb>>;

/** How a table was found by readers that know nothing of us. */
export interface Compared {
  readonly name: string;
  /** Rows as DuckDB counts them in Parquet. */
  readonly rows: number;
  /** Formats whose rows differ from those of Parquet. */
  readonly differing: readonly string[];
}

const duckdbTypes: Readonly<Record<ColumnType, string>> = {
  text: 'VARCHAR',
  integer: 'BIGINT',
  number: 'DOUBLE',
  boolean: 'BOOLEAN',
  date: 'DATE',
  json: 'JSON',
};

/** Holds the exports of one base in a folder against each other: Parquet, CSV and JSON lines in DuckDB, SQLite by Debian's program. */
export async function compareExports(folder: string): Promise<readonly Compared[]> {
  const ask = await openDuckdb();
  const compared: Compared[] = [];
  for (const table of exportTables(keyNodes)) {
    const parquet = `SELECT ${plain(table.columns)} FROM '${join(folder, 'parquet', table.name)}.parquet'`;
    const differing: string[] = [];
    for (const [format, query] of Object.entries(otherQueries(folder, table))) {
      if (await differs(ask, parquet, query)) differing.push(format);
    }
    if (!isSameInSqlite(folder, table)) differing.push('sqlite');
    const { rows } = await ask(`SELECT count(*) FROM (${parquet})`);
    compared.push({ name: table.name, rows: Number(rows[0]?.[0]), differing });
  }
  return compared;
}

async function differs(ask: Ask, a: string, b: string): Promise<boolean> {
  const { rows } = await ask(
    `SELECT (SELECT count(*) FROM (${a} EXCEPT ALL ${b})) + (SELECT count(*) FROM (${b} EXCEPT ALL ${a}))`,
  );
  return Number(rows[0]?.[0]) !== 0;
}

/** Columns so that they can be compared: lists and maps as text. */
function plain(columns: readonly Column[], read: (column: Column) => string = ({ name }) => `"${name}"`): string {
  return columns
    .map((column) => (column.type === 'json' ? `CAST(${read(column)} AS VARCHAR)` : read(column)))
    .join(', ');
}

function otherQueries(folder: string, { name, columns }: Table): Readonly<Record<string, string>> {
  const types = columns.map((column) => `'${column.name}': '${duckdbTypes[column.type]}'`).join(', ');
  const csv = `read_csv('${join(folder, 'csv', name)}.csv', header = true, columns = {${types}}, quote = '"', escape = '"', delim = ',', allow_quoted_nulls = false, new_line = '\\r\\n', parallel = false, max_line_size = 10000000)`;
  const json = `read_json('${join(folder, 'jsonl', name)}.jsonl', format = 'newline_delimited', columns = {${types}})`;
  // What the page of tables says of texts that would be formulas.
  const unguarded = ({ name: column, type }: Column) =>
    type === 'text' ? `regexp_replace("${column}", '^''(''*[-=+@\\t\\r\\n＝＋－＠])', '\\1')` : `"${column}"`;
  return {
    csv: `SELECT ${plain(columns, unguarded)} FROM ${csv}`,
    jsonl: `SELECT ${plain(columns)} FROM ${json}`,
  };
}

/** Whether the SQLite file holds the rows of the JSON lines, in their order. */
function isSameInSqlite(folder: string, { name, columns }: Table): boolean {
  // The program prints fifteen digits of a number, and a number has seventeen.
  const wanted = columns.map((column) =>
    column.type === 'number'
      ? `iif("${column.name}" IS NULL, NULL, printf('%!.17g', "${column.name}")) AS "${column.name}"`
      : `"${column.name}"`,
  );
  const printed = execFileSync(
    sqlite3,
    ['-readonly', '-json', join(folder, 'sqlite'), `SELECT ${wanted.join(', ')} FROM "${name}" ORDER BY rowid`],
    { encoding: 'utf8', maxBuffer: 1 << 29 },
  );
  const found = (printed === '' ? [] : JSON.parse(printed)) as Readonly<Record<string, unknown>>[];
  const lines = readFileSync(join(folder, 'jsonl', `${name}.jsonl`), 'utf8')
    .split('\n')
    .slice(0, -1);
  return (
    found.length === lines.length &&
    found.every((row, at) => {
      const line = JSON.parse(lines[at] ?? '') as Readonly<Record<string, unknown>>;
      return columns.every(({ name: column, type }) => isSameCell(type, row[column], line[column]));
    })
  );
}

function isSameCell(type: ColumnType, found: unknown, expected: unknown): boolean {
  if (expected === null) return found === null;
  switch (type) {
    case 'boolean':
      return found === (expected === true ? 1 : 0);
    case 'number':
      return Number(found) === expected;
    case 'json':
      return found === JSON.stringify(expected);
    default:
      return found === expected;
  }
}
