import { closeSync, openSync } from 'node:fs';
import { fileWriter, type ParquetWriteOptions, parquetWriteRows } from 'hyparquet-writer';
import type { Cell, Column, ColumnType } from '../../core/exporting/table.ts';
import { parseDate } from '../../core/terms/calendar.ts';
import type { FilledTable } from './export-files.ts';

type SchemaElement = NonNullable<ParquetWriteOptions['schema']>[number];

/** Rows that are held together before they are written. */
const rowsInGroup = 5_000;

/** How columns of a type are stored. Source: Apache Parquet, "Logical Types". */
const storedAs: Readonly<Record<ColumnType, Omit<SchemaElement, 'name'>>> = {
  text: { type: 'BYTE_ARRAY', converted_type: 'UTF8' },
  integer: { type: 'INT64' },
  number: { type: 'DOUBLE' },
  boolean: { type: 'BOOLEAN' },
  date: { type: 'INT32', converted_type: 'DATE' },
  json: { type: 'BYTE_ARRAY', converted_type: 'JSON' },
};

/** Writes a table into a new Parquet file. Throws what the system throws where it cannot write or something is there already. */
export function writeParquet(path: string, { table, rows }: FilledTable): void {
  // The library would write over a file.
  closeSync(openSync(path, 'wx'));
  const { columns, key } = table;
  const elements = columns.map(({ name, type }): SchemaElement => {
    return { name, ...storedAs[type], repetition_type: key.includes(name) ? 'REQUIRED' : 'OPTIONAL' };
  });
  parquetWriteRows({
    writer: fileWriter(path),
    schema: [{ name: 'root', num_children: columns.length }, ...elements],
    columns: columns.map(({ name }) => ({ name })),
    rows: named(columns, rows),
    rowGroupSize: rowsInGroup,
    createdBy: 'swaplore',
  });
}

function* named(columns: readonly Column[], rows: FilledTable['rows']): Generator<Record<string, unknown>> {
  for (const row of rows) {
    yield Object.fromEntries(columns.map(({ name, type }, at) => [name, stored(type, row[at] ?? null)]));
  }
}

function stored(type: ColumnType, cell: Cell): unknown {
  if (type === 'integer' && typeof cell === 'number') return BigInt(cell);
  if (type === 'date' && typeof cell === 'string') return parseDate(cell);
  return cell;
}
