import type { Reference } from './held-references.ts';
import type { ColumnType, Table } from './table.ts';

/**
 * Types of columns as SQLite and its readers understand them; it stores truth values as 1 and 0, and days and lists as text.
 * Source: SQLite, "Datatypes In SQLite".
 */
const sqlTypes: Readonly<Record<ColumnType, string>> = {
  text: 'TEXT',
  integer: 'INTEGER',
  number: 'REAL',
  boolean: 'BOOLEAN',
  date: 'DATE',
  json: 'TEXT',
};

/** The statement that makes a table, with its key and these references. */
export function createTable({ name, key, columns }: Table, references: readonly Reference[]): string {
  const lines = [
    ...columns.map((column) => {
      return `${quoted(column.name)} ${sqlTypes[column.type]}${key.includes(column.name) ? ' NOT NULL' : ''}`;
    }),
    `PRIMARY KEY (${key.map(quoted).join(', ')})`,
    ...references.map(({ column, table }) => `FOREIGN KEY (${quoted(column)}) REFERENCES ${quoted(table)} ("id")`),
  ];
  return `CREATE TABLE ${quoted(name)} (\n  ${lines.join(',\n  ')}\n)`;
}

/** The statement that puts a row into a table, its values to be given in the order of the columns. */
export function insertRow({ name, columns }: Table): string {
  return `INSERT INTO ${quoted(name)} VALUES (${columns.map(() => '?').join(', ')})`;
}

/** Some keys have names that are words of SQL. */
function quoted(name: string): string {
  return `"${name.replaceAll('"', '""')}"`;
}
