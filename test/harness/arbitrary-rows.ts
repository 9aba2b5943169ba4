import fc from 'fast-check';
import {
  type Cell,
  type Column,
  type ColumnType,
  columnTypes,
  type Row,
  type Table,
} from '../../server/src/core/exporting/table.ts';
import { formatDate } from '../../server/src/core/terms/calendar.ts';

/** Texts that mean something to one format or another. */
const awkward = [
  '',
  ' ',
  ',',
  '"',
  '""',
  '\r\n',
  '\n',
  '\0',
  "'",
  "'=1",
  '=1+1',
  '+',
  '-',
  '@x',
  '\t',
  '＝1',
  'NULL',
  'null',
  '\\N',
  '🖴',
  '\ufeff',
  '\ufffd',
];

const text = fc.oneof(
  fc.string({ unit: 'grapheme' }),
  fc.string({ unit: 'binary' }),
  fc.array(fc.constantFrom(...awkward), { maxLength: 4 }).map((parts) => parts.join('')),
);

/** One name is left out: the library that writes Parquet loses it. */
const structure = fc.oneof(
  fc.array(fc.oneof(text, fc.integer(), fc.boolean(), fc.constant(null)), { maxLength: 3 }),
  fc.dictionary(
    fc.string({ unit: 'grapheme' }).filter((name) => name !== '__proto__'),
    text,
    { maxKeys: 3 },
  ),
);

const cells: Readonly<Record<ColumnType, fc.Arbitrary<Cell>>> = {
  text,
  integer: fc.oneof(fc.integer(), fc.maxSafeInteger()),
  number: fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => (value === 0 ? 0 : value)),
  boolean: fc.boolean(),
  date: fc.integer({ min: -700_000, max: 2_900_000 }).map(formatDate),
  json: structure,
};

/** A table with a column of each type, each cell null at times, and a key before them. */
export const rowsTable: Table = {
  name: 'rows',
  describes: 'Rows of every type.',
  key: ['position'],
  columns: [{ name: 'position', type: 'integer', describes: 'Position.' }, ...columnTypes.map(columnOf)],
  rows: () => [],
};

function columnOf(type: ColumnType): Column {
  return { name: `${type} "column"`, type, describes: 'Any value.' };
}

/** Rows for that table. */
export const arbitraryRows: fc.Arbitrary<readonly Row[]> = fc
  .array(fc.tuple(...columnTypes.map((type) => fc.option(cells[type], { freq: 4 }))), { maxLength: 12 })
  .map((rows) => rows.map((row, position) => [position, ...row]));
