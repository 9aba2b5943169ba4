import { annotationNames, standardAnnotationNames } from './annotation-names.ts';
import type { Schema, SchemaSet } from './schema.ts';

const words: ReadonlySet<string> = new Set([...annotationNames, ...standardAnnotationNames]);

/**
 * The schemas without hover texts, which would otherwise be copied into the validators. Of `$defs` that are alike
 * without them, all references name the first, so that they share one function.
 */
export function toBareSchemas(set: SchemaSet): readonly Schema[] {
  const bare = [...set.values()].map(withoutWords);
  const twins = findTwins(bare);
  const toFirst = (key: string, value: unknown) => (key === '$ref' ? (twins.get(String(value)) ?? value) : value);
  return bare.map((schema) => JSON.parse(JSON.stringify(schema, toFirst)) as Schema);
}

function withoutWords(schema: Schema): Schema {
  const parts = Object.entries(schema).filter(([name]) => !words.has(name));
  return Object.fromEntries(parts.map(([name, part]) => [name, withoutWordsBelow(name, part)]));
}

function withoutWordsBelow(name: string, part: unknown): unknown {
  if (typeof part !== 'object' || part === null || Array.isArray(part)) return part;
  if (name !== 'properties' && name !== '$defs') return withoutWords(part);
  // The names in these two are keys of records or names of ours, whatever they are called.
  return Object.fromEntries(Object.entries(part).map(([key, schema]) => [key, withoutWords(schema)]));
}

/** References to `$defs` that equal an earlier one, each with the reference to that. */
function findTwins(schemas: readonly Schema[]): ReadonlyMap<string, string> {
  const first = new Map<string, string>();
  const twins = new Map<string, string>();
  for (const { $id, $defs = {} } of schemas) {
    for (const [name, part] of Object.entries($defs)) {
      const ref = `${$id}#/$defs/${name}`;
      const known = first.get(JSON.stringify(part));
      if (known === undefined) first.set(JSON.stringify(part), ref);
      else twins.set(ref, known);
    }
  }
  return twins;
}
