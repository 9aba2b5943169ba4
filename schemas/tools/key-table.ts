import type { ComparableKey } from './comparable-keys.ts';
import { generatedNote } from './generated-note.ts';
import { toKeyRow } from './key-rows.ts';
import type { MapNode } from './read-nodes.ts';

const types = `/** One value of a fixed choice as it is typed in a file, and what it means (may be empty). */
export interface KeyValue {
  readonly value: string;
  readonly meaning: string;
}

/** A key of a map, as its schema describes it. */
export interface KeyRow {
  readonly name: string;
  readonly title: string;
  readonly description: string;
  /** Where a technician finds the value. */
  readonly where: string;
  /** Why it matters for a swap. */
  readonly why: string;
  readonly readFrom: 'label' | 'board' | 'host' | 'rom_image' | 'inside' | 'bench' | 'none';
  /** Type of one value; \`mixed\` where several are possible. */
  readonly type: 'text' | 'integer' | 'number' | 'boolean' | 'map' | 'mixed';
  /** Whether the value is a list; \`either\`: one value or a list. */
  readonly list: 'no' | 'yes' | 'either';
  readonly required: boolean;
  /** Valid values, at least one; of a list, whole lists. */
  readonly examples: readonly unknown[];
  readonly unit?: string;
  /** Completes the sentence "… is needed". */
  readonly expected?: string;
  /** What the text stands for: \`date\` is a day, \`day-span\` a day, week or month, \`day-span-bound\` one of these or a year. */
  readonly format?: 'date' | 'day-span' | 'day-span-bound';
  /** The values of a fixed choice, in the schema's order. */
  readonly values?: readonly KeyValue[];
  /** Name of the comparable key this one records. */
  readonly comparableAs?: string;
  /** Whose slot an unrecorded value is. */
  readonly slotOwner?: 'drive' | 'revision' | 'family' | 'outcome';
  /** Kind of the record whose id the value is. */
  readonly refersTo?: 'maker' | 'family' | 'board' | 'drive' | 'outcome' | 'rule';
  /** \`file\`: the value is a path, counted from the folder of the record's file; \`page\`: it may be a web address. */
  readonly pointsTo?: 'file' | 'page';
  /** Node id of the map, or of the list's maps, that the value may be. */
  readonly node?: string;
}
`;

/** Source of the key table: every key of every shape of map, and the list of comparable keys. */
export function toKeyTable(nodes: ReadonlyMap<string, MapNode>, comparable: readonly ComparableKey[]): string {
  const rows = [...nodes.values()].map((node) => [node.id, node.keys.map(toKeyRow)] as const);
  const names = comparable.map(({ name }) => `  '${name}',\n`).join('');
  return `// ${generatedNote}

${types}
/** The keys of each shape of map, in the schema's order, by node id: a kind, \`config\`, \`parent.key\`, or a shared shape. */
export const keyNodes: Readonly<Record<string, readonly KeyRow[]>> = ${JSON.stringify(Object.fromEntries(rows), null, 2)};

/** The keys in which the two drives of a swap can be compared, in the order of lists and reports. */
export const comparableKeys = [
${names}] as const;

/** The name of a comparable key. */
export type ComparableKey = (typeof comparableKeys)[number];
`;
}
