/**
 * Which references between tables a database may rely on.
 * Laws (test/property/export-tables.property.test.ts):
 * - every reference that is said to hold leads to a row
 */
import type { ExportSource, Table } from './table.ts';

/** A column whose values are ids of another table. */
export interface Reference {
  readonly column: string;
  readonly table: string;
}

/**
 * The references by table of which every value is an id of the other table, so that a database may rely on them. Which lead nowhere
 * depends on the base. Lists are left out.
 */
export function heldReferences(
  tables: readonly Table[],
  source: ExportSource,
): ReadonlyMap<string, readonly Reference[]> {
  const ids = new Map(
    tables.filter(({ key }) => key.join() === 'id').map((table) => [table.name, new Set(cellsOf(table, 'id', source))]),
  );
  return new Map(
    tables.map((table) => [
      table.name,
      table.columns.flatMap(({ name, type, refersTo }) => {
        const known = refersTo === undefined || type === 'json' ? undefined : ids.get(refersTo);
        if (refersTo === undefined || !known) return [];
        for (const cell of cellsOf(table, name, source)) if (cell !== null && !known.has(cell)) return [];
        return [{ column: name, table: refersTo }];
      }),
    ]),
  );
}

function* cellsOf(table: Table, name: string, source: ExportSource): Generator<unknown> {
  for (const [cell] of table.rows(source, new Set([name]))) yield cell;
}
