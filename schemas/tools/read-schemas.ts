import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { kinds } from '../../server/src/core/terms/kinds.ts';
import type { Schema, SchemaSet } from './schema.ts';

const suffix = '.schema.json';

/**
 * The hand-written schemas of a folder by `$id`: the record kinds in their order, then the rest by name.
 * Every `$ref` names its file.
 * Throws where a kind has no schema, or an `$id` is not its file's name.
 */
export function readSchemas(folder: string): SchemaSet {
  const names = readdirSync(folder)
    .filter((name) => name.endsWith(suffix))
    .sort();
  const ordered = kinds.map((kind) => `${kind}${suffix}`);
  const missing = ordered.filter((name) => !names.includes(name));
  if (missing.length > 0) throw new Error(`No schema stands at ${missing.join(', ')} in ${folder}.`);
  const rest = names.filter((name) => !ordered.includes(name));
  return new Map([...ordered, ...rest].map((name) => [name, readSchema(folder, name)]));
}

function readSchema(folder: string, name: string): Schema {
  // References within a file are made to name it, so that a part can be read away from its file.
  const toAbsolute = (key: string, value: unknown) =>
    key === '$ref' && typeof value === 'string' && value.startsWith('#') ? `${name}${value}` : value;
  const schema = JSON.parse(readFileSync(join(folder, name), 'utf8'), toAbsolute) as Schema;
  if (schema.$id !== name) throw new Error(`${name} has the $id ${schema.$id}; its file name is needed.`);
  return schema;
}

/** Ids of the schemas that describe a whole document, each with the bare name of its file, in order. */
export function listRoots(set: SchemaSet): readonly { readonly id: string; readonly name: string }[] {
  return [...set]
    .filter(([, schema]) => schema.properties !== undefined)
    .map(([id]) => ({ id, name: id.slice(0, -suffix.length) }));
}
