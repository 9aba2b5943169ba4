import { withInherited } from './follow-refs.ts';
import type { Schema, SchemaSet } from './schema.ts';

/**
 * The phrase that completes "… is needed" for one value of a key: the key's own, for an id the kind of record it
 * names, else one from anywhere in its schema. Undefined where there is none.
 */
export function findExpected(key: Schema, set: SchemaSet): string | undefined {
  return key.expected ?? findRecordWords(key) ?? findInherited(key, set);
}

function findRecordWords({ refers_to: kind, examples = [] }: Schema): string | undefined {
  const [example] = examples.flat();
  if (kind === undefined || typeof example !== 'string') return undefined;
  return `the id of ${/^[aeiou]/.test(kind) ? 'an' : 'a'} ${kind} such as \`${example}\``;
}

function findInherited(schema: Schema, set: SchemaSet): string | undefined {
  const full = withInherited(schema, set);
  if (full.expected !== undefined) return full.expected;
  const parts = [full.items, full.then, full.else].flatMap((part) => (part === undefined ? [] : [part]));
  for (const part of parts) {
    const expected = findInherited(part, set);
    if (expected !== undefined) return expected;
  }
  return undefined;
}
