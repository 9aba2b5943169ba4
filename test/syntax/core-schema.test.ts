import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isScalar, parseDocument, Scalar } from 'yaml';
import { buildData } from '../../server/src/core/syntax/build-data.ts';
import { resolvePlain, type ScalarValue } from '../../server/src/core/syntax/core-schema.ts';
import { readWithYaml } from '../../server/src/core/syntax/read-with-yaml.ts';

// Source: YAML 1.2.2, 10.3.2 "Tag Resolution". Most of these meant something else in YAML 1.1, or still do to people.
const traps: readonly (readonly [text: string, value: ScalarValue])[] = [
  ['no', 'no'],
  ['NO', 'NO'],
  ['off', 'off'],
  ['yes', 'yes'],
  ['on', 'on'],
  ['y', 'y'],
  ['true', true],
  ['True', true],
  ['TRUE', true],
  ['tRue', 'tRue'],
  ['null', null],
  ['Null', null],
  ['~', null],
  ['', null],
  ['010', 10],
  ['0o10', 8],
  ['0o14', 12],
  ['0x1F', 31],
  ['08', 8],
  ['09', 9],
  ['1_000', '1_000'],
  ['12:30', '12:30'],
  ['190:20:30', '190:20:30'],
  ['1e3', 1000],
  ['1.0', 1],
  ['.5', 0.5],
  ['+12', 12],
  ['-0', -0],
  ['1.', 1],
  ['.inf', Number.POSITIVE_INFINITY],
  ['-.INF', Number.NEGATIVE_INFINITY],
  ['.nan', Number.NaN],
  ['2001-12-14', '2001-12-14'],
  ['0b11', '0b11'],
  ['1,000', '1,000'],
  ['=', '='],
  ['<<', '<<'],
  ['7200', 7200],
  ['5e8', 500_000_000],
  ['007', 7],
  ['1e', '1e'],
  ['0x', '0x'],
  ['+.inf', Number.POSITIVE_INFINITY],
  ['0o8', '0o8'],
];

// Source: YAML 1.2.2, 10.3.2, the expressions themselves: each is tried just inside and just outside.
const edges: readonly (readonly [text: string, value: ScalarValue])[] = [
  ['NULL', null],
  ['nULL', 'nULL'],
  ['nil', 'nil'],
  ['False', false],
  ['FALSE', false],
  ['fALSE', 'fALSE'],
  ['-0x1F', '-0x1F'],
  ['+0o7', '+0o7'],
  ['0X1F', '0X1F'],
  ['0O7', '0O7'],
  ['0xG', '0xG'],
  ['+-1', '+-1'],
  ['-', '-'],
  ['+', '+'],
  ['.', '.'],
  ['-.', '-.'],
  ['.e1', '.e1'],
  ['-.5', -0.5],
  ['+1.5E-2', 0.015],
  ['1.e1', 10],
  ['1e+', '1e+'],
  ['1.2.3', '1.2.3'],
  ['0.0', 0],
  ['.Inf', Number.POSITIVE_INFINITY],
  ['-.inf', Number.NEGATIVE_INFINITY],
  ['.iNF', '.iNF'],
  ['inf', 'inf'],
  ['.NaN', Number.NaN],
  ['.NAN', Number.NaN],
  ['-.nan', '-.nan'],
  ['+.NaN', '+.NaN'],
  ['nan', 'nan'],
  ['Infinity', 'Infinity'],
  ['-Infinity', '-Infinity'],
  ['1n', '1n'],
  ['0x1n', '0x1n'],
  ['1 000', '1 000'],
  ['１２', '１２'],
  ['٣', '٣'],
  // Serial and firmware names that lose what was printed unless they are quoted.
  ['0007', 7],
  ['5E8', 500_000_000],
  ['1E23', 1e23],
  ['9007199254740993', 9007199254740992],
  ['1e400', Number.POSITIVE_INFINITY],
];

describe('a plain scalar stands for', () => {
  it.each([...traps, ...edges])('%j: %j', (text, value) => {
    expect(resolvePlain(text)).toBe(value);
    // A dash alone begins a list item and is no scalar in any file.
    if (text !== '-') expect(resolveInYaml(text)?.value).toBe(value);
  });
});

/** What the `yaml` package takes the text for as a value in a map; undefined where it is not one plain scalar there. */
function resolveInYaml(text: string): { readonly value: unknown } | undefined {
  const document = parseDocument(`key: ${text}`, { version: '1.2', schema: 'core', logLevel: 'silent' });
  const node = document.errors.length > 0 ? undefined : document.get('key', true);
  const isPlain = isScalar(node) && node.type === Scalar.PLAIN && (node.source ?? '') === text && !node.tag;
  return isPlain ? { value: node.value } : undefined;
}

describe('resolvePlain and the core schema of the `yaml` package', () => {
  const words = [...traps, ...edges].map(([text]) => text);
  const letters = fc.constantFrom(...'0123456789+-._eExXoObBaAfFiInNuUlLtTrRsS:~ ');
  const scalars = fc.oneof(
    fc.string({ unit: letters, maxLength: 12 }),
    fc.constantFrom(...words),
    // Two known words run together, or one with a letter put in, is where a loose expression shows.
    fc.tuple(fc.constantFrom(...words), fc.constantFrom(...words)).map((pair) => pair.join('')),
    fc
      .tuple(fc.constantFrom(...words), letters, fc.nat(8))
      .map(([word, letter, at]) => word.slice(0, at) + letter + word.slice(at)),
    fc.double().map(String),
    fc.bigInt({ min: -(10n ** 30n), max: 10n ** 30n }).map(String),
    fc.string({ unit: 'grapheme', maxLength: 6 }),
  );

  it('agree on 5,000 scalars', () => {
    let compared = 0;
    const property = fc.property(scalars, (text) => {
      const inYaml = resolveInYaml(text);
      fc.pre(inYaml !== undefined);
      compared++;
      expect(resolvePlain(text)).toBe(inYaml.value);
    });
    fc.assert(property, { seed: 20260314, numRuns: 5000 });
    expect(compared).toBe(5000);
  });
});

describe('the schema holds for whole documents', () => {
  const load = (text: string) => {
    const { tape, faults } = readWithYaml(text);
    const built = tape.documents.map(({ root }) => buildData(tape, root));
    return { data: built.map(({ data }) => data), faults: [...faults, ...built.flatMap((one) => one.faults)] };
  };
  const plain = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

  // Source: YAML 1.2.2, 3.2.1.3 "Node Comparison": keys are unique. Of the two packages `yaml` lets the last line pass.
  it.each(['a: 1\na: 2\n', '{a: 1, a: 2}', '? a\n: 1\n? a\n: 2\n', ': a\n: b\n', 'a: 1\n"a": 2\n', '1: x\n"1": y\n'])(
    'a key given twice is flagged: %j',
    (text) => {
      expect(load(text).faults.map(({ kind }) => kind)).toEqual(['duplicate-key']);
    },
  );

  // Keys are text here, so two ways to write one number are two keys, against YAML 1.2.2, 3.2.1.3; no schema has such keys.
  it('takes keys as text', () => {
    expect(plain(load('0o13: x\n0xB: y\n'))).toEqual({ data: [{ '0o13': 'x', '0xB': 'y' }], faults: [] });
  });

  // Source: yaml.org/type/merge (2005) was never part of YAML 1.2: `<<` is a key like any other.
  it('merges nothing', () => {
    expect(plain(load('<<: {a: 1}\na: 2\n'))).toEqual({ data: [{ '<<': { a: 1 }, a: 2 }], faults: [] });
  });

  it('heeds no %YAML directive', () => {
    expect(plain(load('%YAML 1.1\n---\na: no\nb: 010\nc: 12:30\n<<: {d: 1}\n'))).toEqual({
      data: [{ a: 'no', b: 10, c: '12:30', '<<': { d: 1 } }],
      faults: [],
    });
  });

  it('a tab may part key and value, but not indent', () => {
    expect(plain(load('a:\tb\n'))).toEqual({ data: [{ a: 'b' }], faults: [] });
    expect(load('a: b\n\tc: d\n').faults).toMatchObject([{ kind: 'syntax', start: 5, end: 6 }]);
  });

  it.each([
    ['- a\n b: c\n', 'A key has to stand on one line'],
    ['a: [1, 2\n', 'This line is not indented far enough'],
    ['"\\q"', 'A backslash in a double-quoted text'],
    ['key: "unterminated', 'A quoted text begins before here and is never closed.'],
    ['a: &x 1\nb: *y\n', 'The alias `*y` has no anchor `&y` before it.'],
  ])('broken form is flagged: %j', (text, beginning) => {
    expect(load(text).faults).toMatchObject([{ kind: 'syntax', reason: expect.stringContaining(beginning) }]);
  });

  it('two documents are two values', () => {
    expect(load('---\na\n---\nb\n')).toEqual({ data: ['a', 'b'], faults: [] });
  });

  // Source: YAML 1.2.2, 10.1.1 and 10.3.1: tags of the core schema; `!` alone makes text (6.9.1).
  it.each([
    ['!!str 007', '007'],
    ['! 007', '007'],
    ['"007"', '007'],
    ["'~'", '~'],
    ['|-\n  007', '007'],
    ['!!int "7"', 7],
    ['!!float 1', 1],
    ['!!bool TRUE', true],
    ['!!null ~', undefined],
  ])('%s stands for %j', (text, value) => {
    expect(plain(load(`key: ${text}\n`))).toEqual({ data: [value === undefined ? {} : { key: value }], faults: [] });
  });
});
