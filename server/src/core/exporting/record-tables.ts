import { type AnyRecord, hasUnusable, isRetracted, type RecordOf } from '../model/record.ts';
import type { Path } from '../syntax/tape.ts';
import { type Kind, pluralOf } from '../terms/kinds.ts';
import { type DataMap, type KeyNodes, keyColumns, type ListKey, listKeys } from './key-columns.ts';
import { type ColumnOf, defineTable, type ExportSource, type Structure, type Table } from './table.ts';

/** A record with the base it stands in. */
export interface Recorded<K extends Kind> {
  readonly record: RecordOf<K>;
  readonly source: ExportSource;
}

/** The table of a kind of record, with further columns, and a table for each list of maps in it. */
export function recordTables<K extends Kind>(
  nodes: KeyNodes,
  kind: K,
  further: readonly ColumnOf<Recorded<K>>[] = [],
): readonly Table[] {
  const columns = keyColumns(nodes, kind).map((column) => ({
    ...column,
    read: (item: Recorded<K>) => apartFromData[column.name]?.(item) ?? column.read(item.record.data as DataMap),
  }));
  return [
    defineTable({
      name: pluralOf(kind),
      describes: `Every record of kind \`${kind}\`; of several with one id the first.`,
      key: ['id'],
      columns: [...columns, ...further, ...(standingColumns as readonly ColumnOf<Recorded<K>>[])],
      *items(source) {
        for (const record of source.snapshot.records(kind)) yield { record, source };
      },
    }),
    ...listKeys(nodes, kind).flatMap((list) => listTables(nodes, list, { name: kind, kind, above: [] })),
  ];
}

interface AnyRecorded {
  readonly record: RecordOf<Kind>;
  readonly source: ExportSource;
}

/** Keys that snapshots keep elsewhere than in the data of records. */
const apartFromData: Readonly<Record<string, (item: AnyRecorded) => unknown>> = {
  id: ({ record }) => record.id,
  notes: ({ record, source }) => {
    const { file, document } = source.snapshot.locate(record as AnyRecord);
    return file.facts.records.find((placed) => placed.document === document)?.notes;
  },
};

/** What is known of any record besides its keys. */
const standingColumns: readonly ColumnOf<{ readonly record: AnyRecord; readonly source: ExportSource }>[] = [
  {
    name: 'is_retracted',
    type: 'boolean',
    describes: 'Whether the record was withdrawn. It is kept, and counts nowhere.',
    read: ({ record }) => isRetracted(record),
  },
  {
    name: 'unusable',
    type: 'json',
    describes: 'Paths of values that stand in the file and cannot be used, such as `controls/swapped_back`; else null.',
    read: ({ record }) => (hasUnusable(record) ? record.unusable.map(pathText) : undefined),
  },
  {
    name: 'own_keys',
    type: 'json',
    describes: "The shop's own keys, those that begin with `x-`, by their paths; null where there are none.",
    isFree: true,
    read: ({ record }) => ownKeysIn(record.data),
  },
  {
    name: 'file',
    type: 'text',
    describes: 'File of the record, from the folder of the base.',
    read: ({ record, source }) => source.snapshot.locate(record).file.path,
  },
];

/** A path as one text: its keys and list positions, which count from 0. */
export function pathText(path: Path): string {
  return path.join('/');
}

function ownKeysIn(data: object): Structure | undefined {
  const found = [...ownKeysBelow(data, [])];
  return found.length > 0 ? Object.fromEntries(found) : undefined;
}

function* ownKeysBelow(value: object, path: Path): Generator<readonly [path: string, value: unknown]> {
  for (const [key, inner] of Object.entries(value)) {
    const at = [...path, key];
    if (key.startsWith('x-')) yield [pathText(at), inner];
    else if (typeof inner === 'object' && inner !== null) yield* ownKeysBelow(inner, at);
  }
}

/** Where a list stands: what its table's name begins with, and the positions that lead to it, outermost first. */
interface Above {
  readonly name: string;
  readonly kind: Kind;
  readonly above: readonly { readonly name: string; readonly key: string }[];
}

/** A map in a list, and the positions that lead to it, its own last. */
interface Listed {
  readonly id: string;
  readonly positions: readonly number[];
  readonly map: DataMap;
}

function listTables(nodes: KeyNodes, { row, node }: ListKey, { name, kind, above }: Above): readonly Table[] {
  const keys = [...above.map((outer) => outer.key), row.name];
  const positions = [...above.map((outer) => outer.name), 'position'].map(
    (column, depth): ColumnOf<Listed> => ({
      name: column,
      type: 'integer',
      describes: depth < above.length ? `Position in \`${keys[depth]}\`, from 0.` : 'Position in the list, from 0.',
      read: (listed) => listed.positions[depth],
    }),
  );
  const owner: ColumnOf<Listed> = {
    name: kind,
    type: 'text',
    describes: 'Id of the record.',
    refersTo: pluralOf(kind),
    read: ({ id }) => id,
  };
  const columns = keyColumns(nodes, node).map((column) => ({
    ...column,
    read: ({ map }: Listed) => column.read(map),
  }));
  const table = defineTable<Listed>({
    name: `${name}_${row.name}`,
    describes: `\`${keys.join('.')}\` of records of kind \`${kind}\`, a row for each. ${row.description}`,
    key: [kind, ...positions.map((column) => column.name)],
    columns: [owner, ...positions, ...columns],
    *items({ snapshot }) {
      for (const { id, data } of snapshot.records(kind)) yield* mapsIn(data as DataMap, keys, { id, positions: [] });
    },
  });
  const inner = { name: table.name, kind, above: [...above, { name: `${row.name}_position`, key: row.name }] };
  return [table, ...listKeys(nodes, node).flatMap((list) => listTables(nodes, list, inner))];
}

/** The maps that lists lead to; an empty item of a list is none. */
function* mapsIn(map: DataMap, [key, ...deeper]: readonly string[], at: Omit<Listed, 'map'>): Generator<Listed> {
  const list = key === undefined ? undefined : map[key];
  if (!Array.isArray(list)) return;
  for (const [position, item] of list.entries()) {
    if (typeof item !== 'object' || item === null) continue;
    const here = { id: at.id, positions: [...at.positions, position] };
    if (deeper.length === 0) yield { ...here, map: item as DataMap };
    else yield* mapsIn(item as DataMap, deeper, here);
  }
}
