import type { Finding } from '../checks/finding.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { Day } from '../terms/calendar.ts';

/** What columns may hold. A date is a day as `2026-03-14`; `json` is a list or a map. */
export const columnTypes = ['text', 'integer', 'number', 'boolean', 'date', 'json'] as const;

/** What a column holds. */
export type ColumnType = (typeof columnTypes)[number];

/** A list or a map, as records hold them. */
export type Structure = readonly unknown[] | Readonly<Record<string, unknown>>;

/** One value of a table; null: not known, or nothing to say. */
export type Cell = string | number | boolean | Structure | null;

/** The cells of a row, in the order of the columns. */
export type Row = readonly Cell[];

/** A column as documentation and formats see it. */
export interface Column {
  readonly name: string;
  readonly type: ColumnType;
  /** One or two sentences; they end with a full stop. */
  readonly describes: string;
  readonly unit?: string | undefined;
  /** The values it may hold, where they are a fixed choice. */
  readonly values?: readonly string[] | undefined;
  /** The table whose `id` the values are; of a list, each of its values. */
  readonly refersTo?: string | undefined;
  /** Whether people write here what they like, so that a serial number may stand in it. */
  readonly isFree?: boolean | undefined;
}

/** A column with the way to its value. */
export interface ColumnOf<Item> extends Column {
  readonly read: (item: Item) => unknown;
}

/** What tables are filled from. */
export interface ExportSource {
  readonly snapshot: Snapshot;
  readonly findings: readonly Finding[];
  readonly today: Day;
}

/** A table: what it holds, the columns that tell its rows apart, and how it is filled, row by row. */
export interface Table {
  readonly name: string;
  readonly describes: string;
  /** Columns that are never null, and of which no two rows hold the same. */
  readonly key: readonly string[];
  readonly columns: readonly Column[];
  /** The rows; with names of columns, those columns only, in the order of the table. */
  readonly rows: (source: ExportSource, names?: ReadonlySet<string>) => Iterable<Row>;
}

/** A table before its items are rows. */
interface Definition<Item> extends Omit<Table, 'columns' | 'rows'> {
  readonly columns: readonly ColumnOf<Item>[];
  readonly items: (source: ExportSource) => Iterable<Item>;
}

/** A table, each row made of one item. */
export function defineTable<Item>({ columns, items, ...rest }: Definition<Item>): Table {
  return {
    ...rest,
    columns: columns.map(({ read: _, ...column }) => column),
    *rows(source, names) {
      const wanted = names ? columns.filter(({ name }) => names.has(name)) : columns;
      for (const item of items(source)) yield wanted.map(({ type, read }) => toCell(type, read(item)));
    },
  };
}

/** A value as a column of this type holds it; null for whatever does not fit. */
function toCell(type: ColumnType, value: unknown): Cell {
  if (value === undefined || value === null) return null;
  switch (type) {
    case 'text':
    case 'date':
      return String(value);
    case 'integer':
      // Beyond that a number no longer says which one was written.
      return Number.isSafeInteger(value) ? (value as number) : null;
    case 'number':
      return Number.isFinite(value) ? (value as number) : null;
    case 'boolean':
      return typeof value === 'boolean' ? value : null;
    case 'json':
      return typeof value === 'object' ? (value as Structure) : null;
  }
}
