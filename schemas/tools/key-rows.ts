import { type Form, listAlternatives, listLeaves } from './forms.ts';
import type { Key } from './read-nodes.ts';
import type { Json } from './schema.ts';

/** Type of one value of a key; `mixed` where several are possible. */
export type RowType = 'text' | 'integer' | 'number' | 'boolean' | 'map' | 'mixed';

/** One value of a fixed choice as it is typed in a file, and what it means. */
interface KeyValue {
  readonly value: string;
  readonly meaning: string;
}

/** A key as hovers, completion and reference pages see it. */
export interface KeyRow {
  readonly name: string;
  readonly title: string;
  readonly description: string;
  readonly where: string;
  readonly why: string;
  readonly readFrom: string;
  readonly type: RowType;
  readonly list: 'no' | 'yes' | 'either';
  readonly required: boolean;
  readonly examples: readonly Json[];
  readonly unit?: string;
  readonly expected?: string;
  readonly format?: string;
  readonly values?: readonly KeyValue[];
  readonly comparableAs?: string;
  readonly slotOwner?: string;
  readonly refersTo?: string;
  readonly pointsTo?: string;
  readonly node?: string;
}

/** The row of a key. Throws where its value may be two different shapes of map. */
export function toKeyRow({ name, schema, form, required }: Key): KeyRow {
  const { title = name, description = '', where = '', why = '', read_from = 'none' } = schema;
  const leaves = listLeaves(form);
  const choices = leaves.flatMap((leaf) => (leaf.form === 'values' ? leaf.choices : []));
  const meanings = new Map(choices.map(({ value, meaning }) => [String(value), meaning]));
  const values = [...meanings].map(([value, meaning]) => ({ value, meaning }));
  const comparableAs = schema.comparable === true ? (schema.comparable_as ?? name) : undefined;
  const node = findNode(name, leaves);
  return {
    ...{ name, title, description, where, why, readFrom: read_from },
    ...{ type: toRowType(leaves), list: toListUse(form), required, examples: schema.examples ?? [] },
    ...(schema.unit && { unit: schema.unit }),
    ...(schema.expected && { expected: schema.expected }),
    ...(schema.format && { format: schema.format }),
    ...(values.length > 0 && { values }),
    ...(comparableAs && { comparableAs }),
    ...(schema.slot_owner && { slotOwner: schema.slot_owner }),
    ...(schema.refers_to && { refersTo: schema.refers_to }),
    ...(schema.points_to && { pointsTo: schema.points_to }),
    ...(node && { node }),
  };
}

function findNode(name: string, leaves: readonly Form[]): string | undefined {
  const nodes = new Set(leaves.flatMap((leaf) => (leaf.form === 'map' ? [leaf.node] : [])));
  if (nodes.size > 1) throw new Error(`Key ${name} may hold several maps: ${[...nodes].join(', ')}.`);
  return [...nodes][0];
}

function toListUse(form: Form): KeyRow['list'] {
  const forms = listAlternatives(form).map((alternative) => alternative.form);
  if (!forms.includes('list')) return 'no';
  return forms.every((alternative) => alternative === 'list') ? 'yes' : 'either';
}

function toRowType(leaves: readonly Form[]): RowType {
  const types = new Set(leaves.flatMap(toTypes));
  if (types.size === 2 && types.has('integer') && types.has('number')) return 'number';
  const [only = 'mixed', ...others] = types;
  return others.length === 0 ? only : 'mixed';
}

function toTypes(leaf: Form): readonly RowType[] {
  if (leaf.form === 'list' || leaf.form === 'either') return [];
  if (leaf.form === 'free-map') return ['map'];
  if (leaf.form !== 'values') return [leaf.form];
  return leaf.choices.map(({ value }) => {
    if (typeof value === 'string') return 'text';
    if (typeof value === 'boolean') return 'boolean';
    return leaf.choices.every((choice) => Number.isInteger(choice.value)) ? 'integer' : 'number';
  });
}
