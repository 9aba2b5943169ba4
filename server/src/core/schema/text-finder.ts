import { type KeyRow, keyNodes } from '../../../../schemas/gen/key-table.ts';
import type { Path } from '../syntax/tape.ts';

/** A text in a record's data with the row of its key. */
export interface FoundText {
  readonly row: KeyRow;
  readonly text: string;
  readonly path: Path;
}

type Rows = readonly KeyRow[];

/**
 * A function that finds the texts under wanted rows in the data of a map, at any depth, in the order of the schema and of lists.
 * It looks only at keys that hold such a text or lead to one: of a record with thirty keys these are two or three.
 */
export function textFinder(isWanted: (row: KeyRow) => boolean): (node: string, data: unknown) => readonly FoundText[] {
  let rows: ReadonlyMap<string, Rows> | undefined;
  return (node, data) => {
    rows ??= rowsLeadingTo(isWanted);
    const found: FoundText[] = [];
    collectFromMap({ isWanted, rows, found, path: [] }, node, data);
    return found;
  };
}

interface Search {
  readonly isWanted: (row: KeyRow) => boolean;
  readonly rows: ReadonlyMap<string, Rows>;
  readonly found: FoundText[];
  /** Where the search stands. Steps are put on and taken off again, so that only what is found needs a path of its own. */
  readonly path: (string | number)[];
}

function collectFromMap(search: Search, node: string, data: unknown): void {
  const rows = search.rows.get(node);
  if (!rows || typeof data !== 'object' || data === null) return;
  for (const row of rows) {
    const value = (data as Readonly<Record<string, unknown>>)[row.name];
    if (value !== undefined) collect(search, row, value, row.name);
  }
}

function collect(search: Search, row: KeyRow, value: unknown, step: string | number): void {
  search.path.push(step);
  if (Array.isArray(value)) {
    for (const [position, item] of value.entries()) collect(search, row, item, position);
  } else if (typeof value === 'string' && search.isWanted(row)) {
    search.found.push({ row, text: value, path: [...search.path] });
  } else if (row.node !== undefined) collectFromMap(search, row.node, value);
  search.path.pop();
}

/** Of each node the rows that are wanted or lead to some. Nodes that have none are absent. */
function rowsLeadingTo(isWanted: (row: KeyRow) => boolean): ReadonlyMap<string, Rows> {
  const rows = new Map<string, Rows>();
  const leads = (row: KeyRow): boolean => isWanted(row) || (row.node !== undefined && rows.has(row.node));
  // Maps may contain maps of their own shape, as conditions do, so this goes round until a round adds no row.
  for (let isNews = true; isNews; ) {
    isNews = false;
    for (const [node, all] of Object.entries(keyNodes)) {
      const leading = all.filter(leads);
      if (leading.length === (rows.get(node)?.length ?? 0)) continue;
      rows.set(node, leading);
      isNews = true;
    }
  }
  return rows;
}
