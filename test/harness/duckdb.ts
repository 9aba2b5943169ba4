import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import { lacks } from '../lsp/harness/lacks.ts';

const folder = fileURLToPath(new URL('../cli/duckdb/', import.meta.url));
const installed = `${folder}node_modules/@duckdb/node-api`;

/** Whether DuckDB is not installed (`npm ci --prefix test/cli/duckdb`), and nobody insists that it be. */
export const lacksDuckdb: boolean = lacks(installed);

/** The part of DuckDB's library that is used. */
interface Library {
  readonly DuckDBInstance: {
    readonly create: (path: string) => Promise<{ readonly connect: () => Promise<Connection> }>;
  };
}

interface Connection {
  readonly runAndReadAll: (sql: string) => Promise<{
    readonly columnNames: () => readonly string[];
    readonly getRowsJson: () => readonly (readonly unknown[])[];
  }>;
}

/** What a query gives: names of columns, and rows; whole numbers beyond 32 bits, days and decimals as text. */
export interface Answer {
  readonly names: readonly string[];
  readonly rows: readonly (readonly unknown[])[];
}

/** A database in memory that answers queries and reads files by their absolute paths. */
export async function openDuckdb(): Promise<(sql: string) => Promise<Answer>> {
  if (!existsSync(installed)) throw new Error('DuckDB is not installed: npm ci --prefix test/cli/duckdb');
  const { DuckDBInstance } = createRequire(`${folder}package.json`)('@duckdb/node-api') as Library;
  const connection = await (await DuckDBInstance.create(':memory:')).connect();
  return async (sql) => {
    const reader = await connection.runAndReadAll(sql);
    return { names: reader.columnNames(), rows: reader.getRowsJson() };
  };
}
