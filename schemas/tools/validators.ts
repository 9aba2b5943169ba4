import Ajv from 'ajv/dist/2020.js';
import { _ } from 'ajv/dist/compile/codegen/index.js';
import standaloneCode from 'ajv/dist/standalone/index.js';
import { formats } from '../../server/src/core/schema/formats.ts';
import { toBareSchemas } from './bare-schemas.ts';
import { generatedNote } from './generated-note.ts';
import { listRoots } from './read-schemas.ts';
import type { SchemaSet } from './schema.ts';

/**
 * Source of the ES module that exports one validate function per kind of document, named for the kind.
 * Besides the text formats it imports nothing. Throws where a schema is faulty or needs run-time help of the validator.
 */
export function toValidatorsModule(set: SchemaSet): string {
  const ajv = new Ajv({
    strict: true,
    allErrors: true,
    allowUnionTypes: true,
    messages: false,
    inlineRefs: false,
    code: { source: true, esm: true, lines: true, formats: _`formats` },
  });
  for (const name of Object.keys(formats)) ajv.addFormat(name, () => true);
  for (const schema of toBareSchemas(set)) ajv.addSchema(schema);
  const roots = listRoots(set);
  const code = standaloneCode(ajv, Object.fromEntries(roots.map(({ id, name }) => [name, id])));
  const lines = code.replace('"use strict";', '').trim();
  const foreign = /.*\brequire\(.*/.exec(lines);
  if (foreign !== null) throw new Error(`The validators would need ${foreign[0].trim()}; use simpler schemas.`);
  return [
    `// ${generatedNote}`,
    "import { formats } from '../../server/src/core/schema/formats.ts';",
    '',
    lines,
    '',
  ].join('\n');
}

/** Types of the module that `toValidatorsModule` gives. */
export function toValidatorsTypes(set: SchemaSet): string {
  const names = listRoots(set).map(({ name }) => name);
  const functions = names.map(
    (name) => `/** Whether a value is what \`${name}.schema.json\` asks for; leaves the faults in \`errors\`. */
export declare const ${name}: Validate;`,
  );
  return `// ${generatedNote}

/** One way in which a value breaks its schema. */
export interface SchemaFault {
  /** JSON pointer to the value; empty for the whole document. */
  readonly instancePath: string;
  readonly schemaPath: string;
  /** The word of JSON Schema that is broken. */
  readonly keyword: string;
  readonly params: Readonly<Record<string, unknown>>;
}

/** A test of one kind of document. \`errors\` holds every fault of the last call, null if there was none. */
export interface Validate {
  (value: unknown): boolean;
  readonly errors?: readonly SchemaFault[] | null;
}

${functions.join('\n\n')}
`;
}
