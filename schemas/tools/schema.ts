/** A JSON value. */
export type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };

/** A value that an `enum` or a `const` may hold in our schemas. */
export type Scalar = string | number | boolean;

/** A type name of JSON Schema. */
export type TypeName = 'string' | 'integer' | 'number' | 'boolean' | 'array' | 'object';

/** What a key says about itself beside its type: standard annotations and our own. */
export interface Annotations {
  readonly title?: string;
  readonly description?: string;
  readonly where?: string;
  readonly why?: string;
  readonly read_from?: string;
  readonly examples?: readonly Json[];
  readonly refused?: readonly Json[];
  readonly expected?: string;
  readonly meanings?: Readonly<Record<string, string>>;
  readonly unit?: string;
  readonly comparable?: boolean;
  readonly comparable_as?: string;
  readonly slot_owner?: string;
  readonly refers_to?: string;
  readonly points_to?: string;
}

/** A schema as the generators read it: the words of JSON Schema 2020-12 that ours use. */
export interface Schema extends Annotations {
  readonly $schema?: string;
  readonly $id?: string;
  readonly $comment?: string;
  readonly $defs?: Readonly<Record<string, Schema>>;
  readonly $ref?: string;
  readonly type?: TypeName | readonly TypeName[];
  readonly const?: Scalar;
  readonly enum?: readonly Scalar[];
  readonly pattern?: string;
  readonly format?: string;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly exclusiveMinimum?: number;
  readonly exclusiveMaximum?: number;
  readonly multipleOf?: number;
  readonly items?: Schema;
  readonly minItems?: number;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly patternProperties?: Readonly<Record<string, true>>;
  readonly additionalProperties?: false;
  readonly required?: readonly string[];
  readonly if?: Schema;
  readonly then?: Schema;
  readonly else?: Schema;
}

/** Schemas by their `$id`, in the order in which reference pages list them. */
export type SchemaSet = ReadonlyMap<string, Schema>;
