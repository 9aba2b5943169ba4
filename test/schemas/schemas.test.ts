import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import Ajv, { type ValidateFunction } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { annotationNames, readFromNames } from '../../schemas/tools/annotation-names.ts';
import { formats } from '../../server/src/core/schema/formats.ts';

type Node = Readonly<Record<string, unknown>>;

/** A schema met on the walk: where it stands, and whether it is the schema of a key. */
interface Place {
  readonly pointer: string;
  readonly node: Node;
  readonly isKey: boolean;
}

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = `${root}schemas/`;
const handwritten = readdirSync(folder).filter((name) => name.endsWith('.schema.json'));
const schemas = new Map([...handwritten, 'gen/terms.schema.json'].map((name) => [name, readSchema(name)]));
const ajv = makeAjv();
const handwrittenPlaces = handwritten.flatMap((name) => listPlaces(schemas.get(name) ?? {}, `${name}#`, false));
const generatedPlaces = listPlaces(schemas.get('gen/terms.schema.json') ?? {}, 'terms.schema.json#', false);
const places = [...handwrittenPlaces, ...generatedPlaces];

function readSchema(name: string): Node {
  return JSON.parse(readFileSync(`${folder}${name}`, 'utf8')) as Node;
}

function makeAjv(): Ajv {
  const made = new Ajv({ strict: true, allErrors: true, allowUnionTypes: true });
  made.addVocabulary([...annotationNames]);
  for (const [name, test] of Object.entries(formats)) made.addFormat(name, test);
  for (const schema of schemas.values()) made.addSchema(schema);
  return made;
}

function isNode(value: unknown): value is Node {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function listPlaces(node: Node, pointer: string, isKey: boolean): readonly Place[] {
  const maps = (['properties', '$defs'] as const).flatMap((word) =>
    Object.entries(isNode(node[word]) ? node[word] : {}).flatMap(([name, part]) =>
      isNode(part) ? listPlaces(part, `${pointer}/${word}/${name}`, word === 'properties') : [],
    ),
  );
  // Without a type to choose by, `if` ties the keys of one map together: nothing in it is a key's own schema.
  const choosesByType = isNode(node.if) && node.if.type !== undefined;
  const parts = ['items', ...(choosesByType ? ['if', 'then', 'else'] : [])].flatMap((word) =>
    isNode(node[word]) ? listPlaces(node[word], `${pointer}/${word}`, false) : [],
  );
  const lists = ['allOf', 'anyOf', 'oneOf'].flatMap((word) =>
    (Array.isArray(node[word]) ? node[word] : []).flatMap((part: Node, index) =>
      listPlaces(part, `${pointer}/${word}/${index}`, false),
    ),
  );
  return [{ pointer, node, isKey }, ...maps, ...parts, ...lists];
}

/** The schema at a pointer with what it inherits from its `$ref`. */
function inherit(node: Node, file: string): Node {
  const ref = node.$ref;
  if (typeof ref !== 'string') return node;
  const pointer = ref.startsWith('#') ? `${file}${ref}` : ref;
  const target = places.find((place) => place.pointer === pointer);
  if (target === undefined) throw new Error(`${pointer} does not exist.`);
  return { ...inherit(target.node, pointer.split('#', 1).join('')), ...node };
}

function inherited({ pointer, node }: Place): Node {
  return inherit(node, pointer.split('#', 1).join(''));
}

function compile(pointer: string): ValidateFunction {
  const validate = ajv.getSchema(pointer);
  if (validate === undefined) throw new Error(`${pointer} cannot be compiled.`);
  return validate;
}

/** What the words of a key lack; empty where nothing does. */
function missingWords(key: Node): readonly string[] {
  const texts = ['title', 'description', 'where', 'why'];
  const lists = ['examples', 'refused'];
  const readFrom = readFromNames.some((name) => name === key.read_from);
  return [
    ...texts.filter((word) => typeof key[word] !== 'string' || key[word].trim() === ''),
    ...lists.filter((word) => !Array.isArray(key[word]) || key[word].length === 0),
    ...(readFrom ? [] : ['read_from']),
  ];
}

function listValues(node: Node, word: string): readonly unknown[] {
  return Array.isArray(node[word]) ? node[word] : [];
}

/** Texts that stand more than once, with the places where they do. Values a key inherits are not counted again. */
function findRepeats(word: string): readonly string[] {
  const found = new Map<string, string[]>();
  for (const { pointer, node } of handwrittenPlaces) {
    const text = node[word];
    if (typeof text !== 'string') continue;
    const known = found.get(text.toLowerCase()) ?? [];
    found.set(text.toLowerCase(), [...known, pointer]);
  }
  return [...found.values()].filter((where) => where.length > 1).map((where) => where.join(' = '));
}

describe('each key of each schema', () => {
  const keys = places.filter((place) => place.isKey);

  it.each(keys.map((place) => [place.pointer, place] as const))('%s has every hover text', (_, place) => {
    expect(missingWords(inherited(place))).toEqual([]);
  });

  it.each(['description', 'why'])('has a %s of its own', (word) => {
    expect(findRepeats(word)).toEqual([]);
  });
});

describe('each part of each schema', () => {
  const withValues = places.filter(({ node }) => node.examples !== undefined || node.refused !== undefined);

  it.each(withValues.map((place) => [place.pointer, place] as const))(
    '%s takes its examples and refuses the rest',
    (pointer, place) => {
      const validate = compile(pointer);
      const full = inherited(place);
      expect(listValues(full, 'examples').filter((value) => !validate(value))).toEqual([]);
      expect(listValues(full, 'refused').filter((value) => validate(value))).toEqual([]);
    },
  );

  it('says what is expected beside every pattern and format', () => {
    const constrained = handwrittenPlaces.filter(({ node }) => 'pattern' in node || 'format' in node);
    expect(constrained.filter((place) => !('expected' in inherited(place))).map(({ pointer }) => pointer)).toEqual([]);
  });

  it('gives every value of a choice a meaning, and nothing else', () => {
    const choices = places.filter(({ node }) => Array.isArray(node.enum));
    const wrong = choices.filter(({ node }) => {
      const meanings = isNode(node.meanings) ? Object.keys(node.meanings) : [];
      return meanings.sort().join() !== listValues(node, 'enum').map(String).sort().join();
    });
    expect(wrong.map(({ pointer }) => pointer)).toEqual([]);
  });

  it('offers no bare alternatives', () => {
    const bare = places.filter(({ node }) => 'oneOf' in node || 'anyOf' in node);
    expect(bare.map(({ pointer }) => pointer)).toEqual([]);
  });

  it('lets every map take keys of the shop and no unknown ones', () => {
    const maps = places.filter(({ node }) => node.properties !== undefined);
    const open = maps.filter(({ node }) => {
      const patterns = isNode(node.patternProperties) ? Object.keys(node.patternProperties) : [];
      return node.additionalProperties !== false || !patterns.includes('^x-');
    });
    expect(open.map(({ pointer }) => pointer)).toEqual([]);
  });
});

describe('generated files', () => {
  it('are what `npm run gen` makes of the schemas and the checks', () => {
    const command = ['--import', 'tsx', 'schemas/tools/gen.ts', '--check'];
    expect(execFileSync(process.execPath, command, { cwd: root, encoding: 'utf8' })).toBe('');
  }, 30_000);
});
