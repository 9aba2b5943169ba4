import type { Annotations, Schema, TypeName } from './schema.ts';

/** What a condition says about one key: the value's own schema, and what may stand instead. */
export interface ValueParts {
  readonly words: Annotations;
  /** Schema of one value, without hover texts. */
  readonly value: Schema;
  /** Reference to the map `{from, to}`, where the key has an order. */
  readonly range?: string;
}

/** Schema of a plain text or a list of them, which most keys of a condition share. */
export const textValue: Schema = {
  ...toAlternatives({ type: 'string' }),
  examples: ['B2', ['B', 'B2']],
  refused: [7, [7], []],
};

/** Schema of what a condition may demand of a key: a value, a list of values, or a range where there is one. */
export function toValueSchema({ words, value, range }: ValueParts): Schema {
  const isPlain = value.type === 'string' && Object.keys(value).length === 1;
  return isPlain
    ? { ...words, $ref: 'terms.schema.json#/$defs/textValue' }
    : { ...words, ...toAlternatives(value, range) };
}

function toAlternatives(value: Schema, range?: string): Schema {
  const types: readonly TypeName[] = [value.type ?? 'string'].flat();
  // biome-ignore lint/suspicious/noThenProperty: a word of JSON Schema
  const single: Schema = range === undefined ? value : { if: { type: 'object' }, then: { $ref: range }, else: value };
  return {
    type: [...types, 'array', ...(range === undefined ? [] : (['object'] as const))],
    if: { type: 'array' },
    // biome-ignore lint/suspicious/noThenProperty: a word of JSON Schema
    then: { items: value, minItems: 1 },
    else: single,
  };
}

/** The hover texts of a key, without its constraints and marks; examples and refused values of scalars only. */
export function toWords(schema: Schema): Annotations {
  const { title, description, where, why, read_from, examples, refused, unit, refers_to } = schema;
  const words = {
    ...{ title, description, where, why, read_from, unit, refers_to },
    examples: examples?.filter(isScalar),
    refused: refused?.filter(isScalar),
    // Of an id, the words follow from the kind it names.
    expected: refers_to === undefined ? (schema.expected ?? schema.else?.expected) : undefined,
  };
  return dropAbsent(words);
}

/** The constraints on one value of a key. Of a key that takes a value or a list of them, those on the value. */
export function toConstraints(schema: Schema): Schema {
  if (schema.if?.type === 'array') return toConstraints({ type: 'string', ...schema.else });
  const { type, pattern, format, minimum, maximum, exclusiveMinimum, exclusiveMaximum, multipleOf } = schema;
  const limits = { minimum, maximum, exclusiveMinimum, exclusiveMaximum, multipleOf };
  const choice = { enum: schema.enum, meanings: schema.meanings };
  return dropAbsent({ type: type ?? typeOf(schema.enum), pattern, format, ...limits, ...choice });
}

function typeOf(choices: Schema['enum']): TypeName | undefined {
  if (choices === undefined) return undefined;
  return choices.every((choice) => typeof choice === 'number') ? 'number' : 'string';
}

function isScalar(value: unknown): boolean {
  return typeof value !== 'object' || value === null;
}

/** The object without the keys whose value is undefined. */
function dropAbsent<T extends object>(value: T): Present<T> {
  return Object.fromEntries(Object.entries(value).filter(([, part]) => part !== undefined)) as Present<T>;
}

type Present<T> = { readonly [K in keyof T]?: Exclude<T[K], undefined> };
