import type { Schema, SchemaSet } from './schema.ts';

/** What a `$ref` points at, and the name it has there. */
interface Target {
  readonly schema: Schema;
  readonly name: string;
}

/** The target of a `$ref`, which names a file and an entry of its `$defs`. Throws where there is none. */
export function getTarget(ref: string, set: SchemaSet): Target {
  const [id = '', name = ''] = ref.split('#/$defs/');
  const schema = set.get(id)?.$defs?.[name];
  if (schema === undefined) throw new Error(`A schema refers to ${ref}, which does not exist.`);
  return { schema, name };
}

/** The schema with what it inherits from its `$ref`, to any depth; its own words win, and no `$ref` is left. */
export function withInherited(schema: Schema, set: SchemaSet): Schema {
  if (schema.$ref === undefined) return schema;
  const { $ref, ...own } = schema;
  return { ...withInherited(getTarget($ref, set).schema, set), ...own };
}
