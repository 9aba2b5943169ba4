import type { KeyRow } from '../schema/key-rows.ts';
import { pluralOf } from '../terms/kinds.ts';
import type { ColumnOf, ColumnType } from './table.ts';

/** What the schemas say of every key, by kind or by path, as the key table has it. */
export type KeyNodes = Readonly<Record<string, readonly KeyRow[]>>;

/** A map of a record. */
export type DataMap = Readonly<Record<string, unknown>>;

/** A list of maps below a key. It has a table of its own. */
export interface ListKey {
  readonly row: KeyRow;
  /** Node of the maps in it. */
  readonly node: string;
}

/** The columns of the keys of a map: maps in it are laid flat, lists are one column each, and lists of maps of its own are left out. */
export function keyColumns(nodes: KeyNodes, node: string): readonly ColumnOf<DataMap>[] {
  return rowsOf(nodes, node).flatMap((row) => (listKeyOf(nodes, row) ? [] : columnsOf(nodes, row, row.name)));
}

/** The lists of maps below the keys of a map that nothing else has the like of. */
export function listKeys(nodes: KeyNodes, node: string): readonly ListKey[] {
  return rowsOf(nodes, node).flatMap((row) => listKeyOf(nodes, row) ?? []);
}

/** The column of one key; `read` is given the way to its value where that is not the map itself. */
export function keyColumn<Item>(row: KeyRow, name: string, read: (item: Item) => unknown): ColumnOf<Item> {
  const type = typeOf(row);
  const isName = row.refersTo !== undefined || row.pointsTo === 'file' || row.name === 'id' || codes.has(row.name);
  const isFree =
    !isName && row.values === undefined && row.format === undefined && (type === 'text' || type === 'json');
  return {
    ...{ name, type, describes: row.description, unit: row.unit },
    values: row.values?.map(({ value }) => value),
    refersTo: row.refersTo && pluralOf(row.refersTo),
    ...(isFree && { isFree }),
    read,
  };
}

/** Digits that lead back to no owner and would mean nothing with stars in them. */
const codes: ReadonlySet<string> = new Set(['wwn', 'sha256']);

/** What is said once for all records of a kind is no column. */
function rowsOf(nodes: KeyNodes, node: string): readonly KeyRow[] {
  return (nodes[node] ?? []).filter(({ name }) => name !== 'kind');
}

/** Shapes that several keys share have no dot in their names; of those a list is a mere value. */
function listKeyOf(nodes: KeyNodes, row: KeyRow): ListKey | undefined {
  const { node } = row;
  if (row.list !== 'yes' || row.type !== 'map' || node === undefined || !node.includes('.')) return undefined;
  return holdsItself(nodes, node) ? undefined : { row, node };
}

function columnsOf(nodes: KeyNodes, row: KeyRow, name: string): readonly ColumnOf<DataMap>[] {
  const { node } = row;
  if (row.list !== 'no') return [keyColumn(row, name, (map) => listed(map[row.name]))];
  if (node === undefined || holdsItself(nodes, node)) return [keyColumn(row, name, (map) => map[row.name])];
  const [first] = nodes[node] ?? [];
  return rowsOf(nodes, node).flatMap((inner) =>
    columnsOf(nodes, inner, `${name}_${inner.name}`).map((column) => ({
      ...column,
      read: (map: DataMap) => column.read(mapAt(map[row.name], first?.name)),
    })),
  );
}

/** A value that stands where a map may stand too is that of the map's first key. */
function mapAt(value: unknown, first: string | undefined): DataMap {
  if (typeof value === 'object' && value !== null) return value as DataMap;
  return value === undefined || first === undefined ? {} : { [first]: value };
}

function listed(value: unknown): unknown {
  return value === undefined || Array.isArray(value) ? value : [value];
}

function typeOf({ list, type, format }: KeyRow): ColumnType {
  if (list !== 'no' || type === 'map') return 'json';
  if (format === 'date') return 'date';
  return type === 'mixed' ? 'text' : type;
}

/** Whether a map may stand in itself, at any depth: no number of columns would be enough. */
function holdsItself(nodes: KeyNodes, node: string): boolean {
  const seen = new Set<string>();
  const reach = (name: string): boolean =>
    (nodes[name] ?? []).some(({ node: next }) => {
      if (next === undefined || seen.has(next)) return false;
      seen.add(next);
      return next === node || reach(next);
    });
  return reach(node);
}
