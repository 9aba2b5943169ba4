import { findExpected } from './expected-words.ts';
import { getTarget, withInherited } from './follow-refs.ts';
import type { Choice, Form } from './forms.ts';
import { listRoots } from './read-schemas.ts';
import type { Schema, SchemaSet, TypeName } from './schema.ts';

/** A key of a map: its schema with everything inherited, and the form of its value. */
export interface Key {
  readonly name: string;
  readonly schema: Schema;
  readonly form: Form;
  readonly required: boolean;
}

/** A shape of map: what it is called, what it is, and its keys in the schema's order. */
export interface MapNode {
  readonly id: string;
  /** Whether it stands in a `$defs` and may therefore be used at several places. */
  readonly shared: boolean;
  readonly title: string;
  readonly description: string;
  readonly keys: readonly Key[];
}

/** Where a schema was met, above all the node id a map found there gets. */
interface Position {
  readonly id: string;
  readonly shared: boolean;
  /** The key's or record's own words, for a map that has none. */
  readonly about: Schema;
  /** Name of the `$defs` entry the schema is, if it is one. */
  readonly name?: string;
  /** Types that hold here although the schema does not repeat them. */
  readonly types?: readonly TypeName[];
}

/**
 * Every shape of map in the schemas by node id: a document's file name, `parent.key` for a map under a key
 * (also for the items of its list), the name of the `$defs` entry for a shared one. In order of first use.
 * Throws where two shapes claim one id or a schema uses bare alternatives.
 */
export function readNodes(set: SchemaSet): ReadonlyMap<string, MapNode> {
  const reader = new NodeReader(set);
  for (const { id, name } of listRoots(set)) reader.readRoot(name, set.get(id) ?? {});
  return reader.nodes;
}

class NodeReader {
  readonly nodes = new Map<string, MapNode>();
  readonly #schemas = new Map<string, Schema>();
  readonly #set: SchemaSet;

  constructor(set: SchemaSet) {
    this.#set = set;
  }

  readRoot(id: string, schema: Schema): void {
    this.#readForm(schema, { id, shared: false, about: schema });
  }

  #readForm(schema: Schema, at: Position): Form {
    if (schema.$ref !== undefined) return this.#readTarget(schema, schema.$ref, at);
    if ('oneOf' in schema || 'anyOf' in schema) throw new Error(`${at.id} uses oneOf or anyOf.`);
    const choices = toChoices(schema, at.about);
    if (choices !== undefined) return { form: 'values', choices, ...(at.name && { name: at.name }) };
    const types = schema.type === undefined ? (at.types ?? []) : [schema.type].flat();
    const chooser = schema.if?.type === undefined ? [] : [schema.if.type].flat();
    if (chooser.length > 0) return this.#readAlternatives(schema, types, chooser, at);
    return toEither(types.map((type) => this.#readType(type, schema, at)));
  }

  #readTarget(schema: Schema, ref: string, at: Position): Form {
    const { schema: target, name } = getTarget(ref, this.#set);
    return this.#readForm(target, { id: name, shared: true, about: { ...at.about, ...schema }, name });
  }

  #readAlternatives(schema: Schema, types: readonly TypeName[], chooser: readonly TypeName[], at: Position): Form {
    const { name: _, ...unnamed } = at;
    const rest = types.filter((type) => !chooser.includes(type));
    return toEither([
      this.#readForm(schema.else ?? {}, { ...unnamed, types: rest }),
      this.#readForm(schema.then ?? {}, { ...unnamed, types: chooser }),
    ]);
  }

  #readType(type: TypeName, schema: Schema, at: Position): Form {
    if (type === 'string') return { form: 'text' };
    if (type === 'object') return this.#readMap(schema, at);
    if (type !== 'array') return { form: type };
    if (schema.items === undefined) throw new Error(`The list ${at.id} has no items.`);
    const { name: _, types: __, ...unnamed } = at;
    return { form: 'list', of: this.#readForm(schema.items, unnamed) };
  }

  #readMap(schema: Schema, at: Position): Form {
    if (schema.properties === undefined) return { form: 'free-map' };
    const known = this.#schemas.get(at.id);
    if (known !== undefined && known !== schema) throw new Error(`Two different maps are called ${at.id}.`);
    if (known === undefined) this.#addNode(schema, at);
    return { form: 'map', node: at.id };
  }

  #addNode(schema: Schema, at: Position): void {
    this.#schemas.set(at.id, schema);
    const keys: Key[] = [];
    const { title = at.about.title, description = at.about.description } = schema;
    // The node stands before its keys are read, so that a map may hold itself.
    this.nodes.set(at.id, {
      id: at.id,
      shared: at.shared && !at.id.includes('.'),
      title: title ?? at.id,
      description: description ?? '',
      keys,
    });
    for (const [name, key] of Object.entries(schema.properties ?? {})) {
      const full = withInherited(key, this.#set);
      const expected = findExpected(key, this.#set);
      const form = this.#readForm(key, { id: `${at.id}.${name}`, shared: at.shared, about: full });
      const required = schema.required?.includes(name) ?? false;
      keys.push({ name, schema: { ...full, ...(expected && { expected }) }, form, required });
    }
  }
}

function toChoices(schema: Schema, about: Schema): readonly Choice[] | undefined {
  if (schema.const !== undefined) return [{ value: schema.const, meaning: about.description ?? '' }];
  const meanings = { ...schema.meanings, ...about.meanings };
  return schema.enum?.map((value) => ({ value, meaning: meanings[String(value)] ?? '' }));
}

function toEither(forms: readonly Form[]): Form {
  const [only, ...others] = forms;
  if (only === undefined) throw new Error('A key without a type was met.');
  return others.length === 0 ? only : { form: 'either', of: forms };
}
