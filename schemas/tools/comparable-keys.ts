import { withInherited } from './follow-refs.ts';
import type { Schema, SchemaSet } from './schema.ts';

/** A comparable key: its name in conditions, and the schema (everything inherited) of the key it compares. */
export interface ComparableKey {
  readonly name: string;
  readonly schema: Schema;
}

/** Files whose keys may be marked `comparable`; where both mark one name, the drive's own key stands. */
const owners = ['drive.schema.json', 'board.schema.json'];

/**
 * Order of the comparable keys in lists, witnesses and reports.
 * Source: the list in the format's description; a marked key not named here comes last.
 */
const order = [
  'family',
  'model',
  'part_number',
  'firmware',
  'rom_version',
  'site',
  'country',
  'capacity_gb',
  'heads',
  'head_map',
  'head_stack_code',
  'preamp',
  'board',
  'rev',
  'sticker',
  'controller',
  'motor_driver',
  'contact_pads',
  'rom_package',
];

/** The keys that schemas mark `comparable`, in `order`. Throws where one of `order` is not marked anywhere. */
export function findComparableKeys(set: SchemaSet): readonly ComparableKey[] {
  const found = new Map<string, Schema>();
  for (const file of owners) {
    for (const [name, schema] of listMarked(set.get(file) ?? {}, set)) {
      if (!found.has(name)) found.set(name, schema);
    }
  }
  const unmarked = order.filter((name) => !found.has(name));
  if (unmarked.length > 0) throw new Error(`No key is marked comparable as ${unmarked.join(', ')}.`);
  const names = [...order, ...[...found.keys()].filter((name) => !order.includes(name))];
  return names.map((name) => ({ name, schema: found.get(name) ?? {} }));
}

function listMarked(schema: Schema, set: SchemaSet): readonly (readonly [string, Schema])[] {
  const here = Object.entries(schema.properties ?? {}).flatMap(([name, key]) => {
    const full = withInherited(key, set);
    const marked = full.comparable === true ? [[full.comparable_as ?? name, full] as const] : [];
    return [...marked, ...listMarked(key, set)];
  });
  const below = [schema.items, schema.then, schema.else].flatMap((part) =>
    part === undefined ? [] : listMarked(part, set),
  );
  return [...here, ...below];
}
