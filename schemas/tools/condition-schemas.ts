import type { ComparableKey } from './comparable-keys.ts';
import { withInherited } from './follow-refs.ts';
import type { Json, Schema, SchemaSet } from './schema.ts';
import { toConstraints, toValueSchema, toWords, type ValueParts } from './value-schema.ts';

const familyKeys = ['interface', 'form_factor', 'height_mm', 'recording', 'encryption', 'rpm', 'gas'];

/** The maps of a condition: what it may demand of one drive of a swap, and of the patient's family. */
interface ConditionSchemas {
  readonly patientCondition: Schema;
  readonly donorCondition: Schema;
  readonly familyCondition: Schema;
}

/** Builds the condition maps from the keys they compare, so that constraints and hover texts stand once. */
export function toConditionSchemas(set: SchemaSet, comparable: readonly ComparableKey[]): ConditionSchemas {
  const driveKeys = [
    ...comparable.map((key) => [key.name, toDriveValue(key, comparable, set)] as const),
    ['made', toMadeValue(set)] as const,
    ['power_on_hours', toPlainValue(getKey(['power_on_hours'], 'drive', set))] as const,
  ];
  const family = familyKeys.map((name) => [name, toPlainValue(getKey([name], 'family', set))] as const);
  const adaptives = toPlainValue(getKey(['adaptives', 'stored_in'], 'family', set));
  return {
    patientCondition: toMap('Patient', 'What the patient must be, as it was before any part was moved.', driveKeys),
    donorCondition: toMap('Donor', 'What the donor must be; board keys describe the board it gives.', driveKeys),
    familyCondition: toMap('Family', "What the patient's family must be.", [...family, ['adaptives', adaptives]]),
  };
}

function toMap(title: string, description: string, keys: readonly (readonly [string, ValueParts])[]): Schema {
  return {
    title,
    description,
    type: 'object',
    properties: Object.fromEntries(keys.map(([name, parts]) => [name, toValueSchema(parts)])),
    patternProperties: { '^x-': true },
    additionalProperties: false,
  };
}

function toDriveValue(key: ComparableKey, all: readonly ComparableKey[], set: SchemaSet): ValueParts {
  if (key.name !== 'rev') return toPlainValue(key.schema);
  const [rev, board] = ['rev', 'board'].map((name) => firstExample(all, name));
  const shared = getShared('id', set).examples ?? [];
  const example = `${board ?? shared[0]}/${rev}`;
  return {
    words: {
      ...toWords(key.schema),
      expected: `a board's id and its revision, such as \`${example}\``,
      examples: [example],
      refused: [rev ?? '', 7],
    },
    value: { type: 'string', pattern: '^[a-z0-9-]+/.+$' },
  };
}

function toPlainValue(schema: Schema): ValueParts {
  const value = toConstraints(schema);
  const isNumeric = [value.type].flat().some((type) => type === 'integer' || type === 'number');
  const isOrdered = isNumeric && value.enum === undefined;
  const words = toWords(schema);
  if (!isOrdered) return { words, value };
  const expected = `a number, or a range such as \`{from: ${words.examples?.[0]}}\``;
  return { words: { ...words, expected }, value, range: 'terms.schema.json#/$defs/numberRange' };
}

function toMadeValue(set: SchemaSet): ValueParts {
  const { expected, examples = [], refused = [] } = getShared('madeBound', set);
  const bound = { expected: `${expected}, or a range such as \`{from: ${examples[0]}}\``, examples, refused };
  const words = { ...toWords(getKey(['made'], 'drive', set)), ...bound };
  const value: Schema = { $ref: 'common.schema.json#/$defs/madeBound', type: ['integer', 'string'] };
  return { words, value, range: 'terms.schema.json#/$defs/madeRange' };
}

function firstExample(keys: readonly ComparableKey[], name: string): Json | undefined {
  return keys.find((key) => key.name === name)?.schema.examples?.[0];
}

function getShared(name: string, set: SchemaSet): Schema {
  const schema = set.get('common.schema.json')?.$defs?.[name];
  if (schema === undefined) throw new Error(`common.schema.json has no ${name}.`);
  return schema;
}

function getKey(path: readonly string[], kind: string, set: SchemaSet): Schema {
  const file = `${kind}.schema.json`;
  const step = (map: Schema | undefined, name: string) => {
    const key = map?.properties?.[name];
    return key && withInherited(key, set);
  };
  const schema = path.reduce(step, set.get(file));
  if (schema === undefined) throw new Error(`${file} has no key ${path.join('.')}.`);
  return schema;
}
