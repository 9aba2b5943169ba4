import { describe, expect, it } from 'vitest';
import { type FileFacts, readFileFacts, unreadableFacts } from '../../server/src/core/model/file-facts.ts';
import { buildData } from '../../server/src/core/syntax/build-data.ts';
import { type Reading, readWithYaml } from '../../server/src/core/syntax/read-with-yaml.ts';
import type { SyntaxFault } from '../../server/src/core/syntax/syntax-fault.ts';
import { childrenOf, findEntry, type TapeEntry } from '../../server/src/core/syntax/tape.ts';
import { decodeText } from '../../server/src/core/text/decode.ts';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** Kind, text of the key and text of the value of an entry, as they stand in the file. */
type Slices = readonly [kind: TapeEntry['kind'], key: string | undefined, value: string];

function slicesOf({ tape: { text, entries } }: Reading): Slices[] {
  return entries.map(({ kind, key, keyStart, keyEnd, start, end }) => [
    kind,
    key === undefined ? undefined : text.slice(keyStart, keyEnd),
    text.slice(start, end),
  ]);
}

interface Loaded {
  readonly data: readonly unknown[];
  readonly faults: readonly SyntaxFault[];
}

/** Data of every document, as plain maps and lists, and all faults of form. */
function load(text: string): Loaded {
  const { tape, faults } = readWithYaml(text);
  const built = tape.documents.map(({ root }) => (root < 0 ? { data: null, faults: [] } : buildData(tape, root)));
  return {
    data: built.map(({ data }) => (data === undefined ? undefined : JSON.parse(JSON.stringify(data)))),
    faults: [...faults, ...built.flatMap((one) => one.faults)],
  };
}

function onlyFault(text: string): SyntaxFault | undefined {
  const { faults } = load(text);
  expect(faults).toHaveLength(1);
  return faults[0];
}

/** The text a fault points at. */
function textAt(text: string, fault: SyntaxFault | undefined): string {
  return fault && 'start' in fault ? text.slice(fault.start, fault.end) : '';
}

describe('slices of a sample', () => {
  const lines = [
    '# A comment.',
    'kind: drive # another',
    'id:\td-1\t# parted by tabs',
    'label: NT10\t21 \t',
    '"quoted key": "a\\tb: \\u00e9"',
    "'it''s': 'don''t'",
    'größe: 3,5″ 😀 𣎴',
    'empty:',
    'null: ~ # nothing',
    'parts:',
    '  - name: board',
    '    revs: [A1, "B 2", {rev: C, of: , last: }, [ ]]',
    '  -   - 1',
    '      - 2',
    '  -',
    'plain: one',
    '  two',
    '',
    '  three',
    'literal: |',
    '  first',
    '    second',
    '',
    'folded: >-',
    '  joined',
    '  up',
    'indented: |1+',
    '   x',
    '',
    'base: &base !!map',
    '  power: &power 12',
    'again: *base',
    '*power : as key',
    'tagged: !!str 007',
    '? long',
    ': !!seq',
    '- same column',
    'last: end',
    '',
  ];

  const slices: readonly (readonly [kind: TapeEntry['kind'], key: string | undefined, value: string])[] = [
    ['map', undefined, lines.slice(1, -1).join('\n')],
    ['plain', 'kind', 'drive'],
    ['plain', 'id', 'd-1'],
    ['plain', 'label', 'NT10\t21'],
    ['quoted', '"quoted key"', '"a\\tb: \\u00e9"'],
    ['quoted', "'it''s'", "'don''t'"],
    ['plain', 'größe', '3,5″ 😀 𣎴'],
    ['empty', 'empty', ''],
    ['plain', 'null', '~'],
    ['list', 'parts', lines.slice(10, 15).join('\n').trimStart()],
    ['map', undefined, 'name: board\n    revs: [A1, "B 2", {rev: C, of: , last: }, [ ]]'],
    ['plain', 'name', 'board'],
    ['list', 'revs', '[A1, "B 2", {rev: C, of: , last: }, [ ]]'],
    ['plain', undefined, 'A1'],
    ['quoted', undefined, '"B 2"'],
    ['map', undefined, '{rev: C, of: , last: }'],
    ['plain', 'rev', 'C'],
    ['empty', 'of', ''],
    ['empty', 'last', ''],
    ['list', undefined, '[ ]'],
    ['list', undefined, '- 1\n      - 2'],
    ['plain', undefined, '1'],
    ['plain', undefined, '2'],
    ['empty', undefined, ''],
    ['plain', 'plain', 'one\n  two\n\n  three'],
    ['block', 'literal', '|\n  first\n    second\n'],
    ['block', 'folded', '>-\n  joined\n  up\n'],
    ['block', 'indented', '|1+\n   x\n\n'],
    ['map', 'base', 'power: &power 12'],
    ['plain', 'power', '12'],
    ['alias', 'again', '*base'],
    ['plain', '*power', 'as key'],
    ['plain', 'tagged', '007'],
    ['list', 'long', '- same column'],
    ['plain', undefined, 'same column'],
    ['plain', 'last', 'end'],
  ];

  const data = {
    kind: 'drive',
    id: 'd-1',
    label: 'NT10\t21',
    'quoted key': 'a\tb: é',
    "it's": "don't",
    größe: '3,5″ 😀 𣎴',
    parts: [{ name: 'board', revs: ['A1', 'B 2', { rev: 'C' }, []] }, [1, 2], null],
    plain: 'one two\nthree',
    literal: 'first\n  second\n',
    folded: 'joined up',
    indented: '  x\n\n',
    base: { power: 12 },
    again: { power: 12 },
    '12': 'as key',
    tagged: '007',
    long: ['same column'],
    last: 'end',
  };

  it.each([
    ['\n', ''],
    ['\r\n', ''],
    ['\n', '\ufeff'],
    ['\r\n', '\ufeff'],
  ])('with line ends %j after %j', (lineEnd, mark) => {
    const text = lines.join(lineEnd);
    const decoded = decodeText(bytesOf(mark + text));
    expect(decoded).toEqual({ text });
    const reading = readWithYaml(text);
    expect(reading.faults).toEqual([]);
    const wanted = slices.map(([kind, key, value]) => [kind, key, value.replaceAll('\n', lineEnd)]);
    expect(slicesOf(reading)).toEqual(wanted);
    expect(reading.tape.documents).toEqual([{ root: 0, isBroken: false }]);
    expect(load(text)).toEqual({ data: [data], faults: [] });
  });

  it('an empty value stands where its key ends, or behind its dash', () => {
    const text = 'a:  # none\nb:\n  -\n  - 1\n? c\n';
    const { tape } = readWithYaml(text);
    const empty = tape.entries.filter(({ kind }) => kind === 'empty');
    expect(empty.map(({ start, end }) => [start, end])).toEqual([
      [1, 1],
      [17, 17],
      [27, 27],
    ]);
  });

  it('`skip` leads past what lies inside', () => {
    const { tape } = readWithYaml('a: [1, {b: 2}]\nc: 3\n');
    expect(tape.entries.map(({ skip }) => skip)).toEqual([6, 5, 3, 5, 5, 6]);
    expect([...childrenOf(tape, 0)]).toEqual([1, 5]);
    expect([...childrenOf(tape, 1)]).toEqual([2, 3]);
    expect([...childrenOf(tape, 5)]).toEqual([]);
    expect([...childrenOf(tape, 99)]).toEqual([]);
  });

  it.each([
    [['a', 1, 'b'], '2', 3],
    [['a', 1, 'x'], '{b: 2}', 2],
    [['a', 7], '[1, {b: 2}]', 1],
    [['c'], 'first', 1],
    [['d', 1], '*l', 1],
    [['c', 'x'], 'first', 1],
    [[], undefined, 0],
  ])('the path %j leads to %j', (path, slice, depth) => {
    const text = 'a: &l [1, {b: 2}]\nc: first\nc: second\nd: *l\n';
    const { tape } = readWithYaml(text);
    const found = findEntry(tape, 0, path);
    expect(found.depth).toBe(depth);
    const { start, end } = tape.entries[found.entry]!;
    expect(text.slice(start, end)).toBe(slice ?? text.trimEnd());
  });

  // Source: YAML 1.2.2, 5.4 "Line Break Characters", names a lone CR too; the `yaml` package knows LF and CRLF only. Such files
  // are refused as a whole, so nothing is read wrongly.
  it('lone CRs are no line ends to the reader, which says that something is wrong', () => {
    expect(onlyFault('a: 1\rb: 2\r')).toMatchObject({ kind: 'syntax', start: 3, end: 4 });
  });
});

describe('aliases', () => {
  it('repeat the very same value', () => {
    const { tape } = readWithYaml('a: &x {b: 1}\nc: *x\nd: [*x, *x]\n');
    const { data } = buildData(tape, 0);
    const { a, c, d } = data as { a: object; c: object; d: readonly object[] };
    expect(c).toEqual(a);
    expect(d[0]).toBe(c);
    expect(d[1]).toBe(c);
  });

  // Source: YAML 1.2.2, 3.2.2.2 "Anchors and Aliases": an alias means the last anchor of its name before it.
  it('mean the last anchor of the name before them', () => {
    expect(load('a: &x 1\nb: *x\nc: &x 2\nd: *x\n')).toEqual({ data: [{ a: 1, b: 1, c: 2, d: 2 }], faults: [] });
  });

  it('do not reach over into the next document', () => {
    const { data, faults } = load('a: &x 1\n---\nb: *x\n');
    expect(data[0]).toEqual({ a: 1 });
    expect(faults).toMatchObject([{ reason: 'The alias `*x` has no anchor `&x` before it.' }]);
  });

  it.each([
    ['a text', 'a: &k key\n*k : v\n', { a: 'key', key: 'v' }],
    ['a quoted text', 'a: &k "k e y"\n*k : v\n', { a: 'k e y', 'k e y': 'v' }],
    ['another key', '&k key: a\nb: {*k : v}\n', { key: 'a', b: { key: 'v' } }],
    // What is typed stands for it: data has text keys only.
    ['a list', 'a: &k [1]\n*k : v\n', { a: [1], '*k': 'v' }],
    ['a map', 'a: &k {b: 1}\n*k : v\n', { a: { b: 1 }, '*k': 'v' }],
  ])('as keys: %s', (_, text, data) => {
    expect(load(text)).toEqual({ data: [data], faults: [] });
  });

  it('of a key have its value at their own place', () => {
    const text = '&a one: &b two\n*b : *a\n&n 7: [*n]\n&s "8": [*s]\n';
    const reading = readWithYaml(text);
    expect(slicesOf(reading).slice(1)).toEqual([
      ['plain', 'one', 'two'],
      ['plain', '*b', '*a'],
      ['list', '7', '[*n]'],
      ['plain', undefined, '*n'],
      ['list', '"8"', '[*s]'],
      ['quoted', undefined, '*s'],
    ]);
    expect(load(text)).toEqual({ data: [{ one: 'two', two: 'one', '7': [7], '8': ['8'] }], faults: [] });
  });

  it.each([
    ['a: *x\n', '*x', 'The alias `*x` has no anchor `&x` before it.'],
    ['a: *x\nb: &x 1\n', '*x', 'The alias `*x` has no anchor `&x` before it.'],
    ['*x : 1\n', '*x', 'The alias `*x` has no anchor `&x` before it.'],
    ['a: &x [1, *x]\n', '*x', 'The alias `*x` stands inside the value it repeats.'],
    ['a: &x {b: {c: *x}}\n', '*x', 'The alias `*x` stands inside the value it repeats.'],
    ['&x\na: *x\n', '*x', 'The alias `*x` stands inside the value it repeats.'],
    ['a: &x {*x : 1}\n', '*x', 'The alias `*x` stands inside the value it repeats.'],
  ])('without a target: %j', (text, slice, reason) => {
    const fault = onlyFault(text);
    expect(fault).toMatchObject({ kind: 'syntax', reason });
    expect(textAt(text, fault)).toBe(slice);
    expect(readWithYaml(text).tape.documents.map(({ isBroken }) => isBroken)).toEqual([true]);
  });

  it.each([
    ['values', (uses: number) => `a: &x 1\nb: [${Array(uses).fill('*x').join(', ')}]\n`],
    ['keys', (uses: number) => `a: &x 1\nb: [${Array(uses).fill('{*x : 1}').join(', ')}]\n`],
    ['values that repeat a key', (uses: number) => `&x a: 1\nb: [${Array(uses).fill('*x').join(', ')}]\n`],
    ['several documents', (uses: number) => `a: &x 1\nb: [*x, *x]\n---\na: &x 1\n${'b: *x\n'.repeat(uses - 2)}`],
  ])('more than 1,000 are too many: in %s', (_, textWith) => {
    expect(load(textWith(1000)).faults.filter(({ kind }) => kind !== 'duplicate-key')).toEqual([]);
    const tooMany = textWith(1001);
    const { tape, faults } = readWithYaml(tooMany);
    expect(faults).toMatchObject([{ kind: 'too-deep', reason: 'More than 1,000 aliases are used in this file.' }]);
    expect(textAt(tooMany, faults[0])).toBe('*x');
    expect(faults[0]).toMatchObject({ start: tooMany.lastIndexOf('*x') });
    expect(tape).toEqual({ text: tooMany, entries: [], documents: [] });
  });
});

/** Ten lists of ten, each holding the one before ten times: 10,000,000,000 values if written out. */
const laughs = [
  'l0: &l0 [ha, ha, ha, ha, ha, ha, ha, ha, ha, ha]',
  ...Array.from({ length: 9 }, (_, level) => {
    const inner = Array(10).fill(`*l${level}`).join(', ');
    return `l${level + 1}: &l${level + 1} [${inner}]`;
  }),
];

describe('aliases of aliases', () => {
  const reason = 'Aliases repeat more than 20,000 values in this.';

  // Source: the "billion laughs" attack, known from XML entities (CVE-2003-1564).
  it('are too much once written out, and that is found without writing them out', () => {
    const text = `${laughs.join('\n')}\n`;
    const { data, faults } = load(text);
    expect(data).toEqual([undefined]);
    expect(faults).toMatchObject([{ kind: 'too-deep', reason }]);
    // The fourth list of lists is the first that repeats more than 20,000 values.
    expect(faults[0]).toMatchObject({ start: text.indexOf('[*l3,') });
    expect(textAt(text, faults[0])).toBe('[');
  }, 5_000);

  it('are too much even where they stand below a key given twice', () => {
    const text = `k: 1\nk:\n${laughs.map((line) => `  ${line}\n`).join('')}z: *l9\n`;
    const { data, faults } = load(text);
    expect(data).toEqual([undefined]);
    expect(faults).toMatchObject([{ kind: 'duplicate-key' }, { kind: 'too-deep', reason }]);
  }, 5_000);

  it('may repeat up to 20,000 values', () => {
    // 1,000 times the list `a` with its 19 items.
    const text = (items: number) => `a: &a [${'1,'.repeat(items)}]\nb: [${'*a,'.repeat(1000)}]\n`;
    expect(load(text(19)).faults).toEqual([]);
    expect(load(text(20)).faults).toMatchObject([{ kind: 'too-deep', reason }]);
  });

  it('leave what is wrong inside them with the value that they repeat', () => {
    const text = 'a: &a {b: 1, b: 2, c: !x 3}\nd: [*a, *a]\n';
    const { data, faults } = load(text);
    expect(data).toEqual([
      {
        a: { b: 1, c: 3 },
        d: [
          { b: 1, c: 3 },
          { b: 1, c: 3 },
        ],
      },
    ]);
    expect(faults.map((fault) => [fault.kind, textAt(text, fault)])).toEqual([
      ['duplicate-key', 'b'],
      ['syntax', '3'],
    ]);
  });
});

describe('depth', () => {
  const shapes: readonly (readonly [name: string, of: (depth: number) => string, opening: string])[] = [
    ['flow lists', (depth) => '['.repeat(depth) + ']'.repeat(depth), '['],
    ['flow maps', (depth) => `${'{a: '.repeat(depth)}1${'}'.repeat(depth)}`, '{'],
    ['block lists', (depth) => `${'- '.repeat(depth)}1\n`, '-'],
    [
      'block maps',
      (depth) =>
        Array.from({ length: depth }, (_, level) => `${' '.repeat(level)}k:`)
          .join('\n')
          .concat(' 1\n'),
      ':',
    ],
    ['explicit keys', (depth) => `${'? '.repeat(depth)}1\n`, '?'],
    ['flow inside block', (depth) => `k:\n  - ${'['.repeat(depth - 2)}${']'.repeat(depth - 2)}\n`, '['],
  ];

  it.each(shapes)('64 %s are read, 65 are too deep', (_, of, opening) => {
    expect(load(of(64)).faults).toEqual([]);
    const text = of(65);
    const { tape, faults } = readWithYaml(text);
    expect(faults).toMatchObject([{ kind: 'too-deep', reason: 'Maps and lists are nested more than 64 deep here.' }]);
    expect(textAt(text, faults[0])).toBe(opening);
    expect(tape).toEqual({ text, entries: [], documents: [] });
  });

  it.each(shapes)(
    '100,000 %s are refused at once',
    (name, of) => {
      // Indented lines grow with the square of their depth.
      const text = of(name === 'block maps' ? 1_000 : 100_000);
      expect(readWithYaml(text).faults).toMatchObject([{ kind: 'too-deep' }]);
    },
    1_000,
  );

  it('is counted document by document', () => {
    const deep = `${'['.repeat(64)}${']'.repeat(64)}\n`;
    expect(load(`${deep}---\n${deep}`).faults).toEqual([]);
  });
});

describe('tags', () => {
  // Source: YAML 1.2.2, 6.9.1 "Node Tags" and 6.8.2.2 "Tag Prefixes".
  it.each([
    ['a: !wd 1\n', '1', '!wd', { a: 1 }],
    ['a: !<x:y> [1]\n', '[1]', 'x:y', { a: [1] }],
    ['%TAG !e! tag:example.com,2000:\n---\na: !e!b {c: 1}\n', '{c: 1}', 'tag:example.com,2000:b', { a: { c: 1 } }],
    // Known to YAML 1.1 and to the package, but not to the core schema: neither bytes nor dates come of them.
    ['a: !!binary aGk=\n', 'aGk=', 'tag:yaml.org,2002:binary', { a: 'aGk=' }],
    ['a: !!binary "*"\n', '"*"', 'tag:yaml.org,2002:binary', { a: '*' }],
    ['a: !!timestamp 2001-12-14\n', '2001-12-14', 'tag:yaml.org,2002:timestamp', { a: '2001-12-14' }],
    ['a: !!set {x, y}\n', '{x, y}', 'tag:yaml.org,2002:set', { a: {} }],
    ['a: !!omap [x: 1]\n', '[x: 1]', 'tag:yaml.org,2002:omap', { a: [{ x: 1 }] }],
    ['a: !!omap 1\n', '1', 'tag:yaml.org,2002:omap', { a: 1 }],
  ])('without meaning: %j', (text, slice, tag, data) => {
    const fault = onlyFault(text);
    expect(fault).toMatchObject({ kind: 'syntax', reason: `The tag \`${tag}\` has no meaning in these files.` });
    expect(textAt(text, fault)).toBe(slice);
    expect(load(text).data).toEqual([data]);
  });

  it('keep every place inside what they stand before', () => {
    const reading = readWithYaml('a: !!omap [x: 1, y: {z: 2}]\nb: !!set {c}\n');
    expect(slicesOf(reading).slice(1)).toEqual([
      ['list', 'a', '[x: 1, y: {z: 2}]'],
      ['map', undefined, 'x: 1'],
      ['plain', 'x', '1'],
      ['map', undefined, 'y: {z: 2}'],
      ['map', 'y', '{z: 2}'],
      ['plain', 'z', '2'],
      ['map', 'b', '{c}'],
      ['empty', 'c', ''],
    ]);
  });
});

describe('several documents', () => {
  const whole = (id: string): string => `kind: drive\nid: ${id}\nfamily: tern-2\n`;

  it.each([
    ['a bracket never closed', 'kind: drive\nid: d-2\nheads: [1, 2\n'],
    ['a line indented too far', 'kind: drive\nid: d-2\n  family: tern-2\n'],
    ['a tab as indentation', 'kind: drive\nid: d-2\nparts:\n\tx: 1\n'],
    ['an alias without anchor', 'kind: drive\nid: d-2\nfamily: *tern\n'],
  ])('one broken by %s leaves the others whole', (_, broken) => {
    const text = `${whole('d-1')}---\n${broken}---\n${whole('d-3')}`;
    const { tape, faults } = readWithYaml(text);
    expect(faults).toHaveLength(1);
    expect(tape.documents.map(({ isBroken }) => isBroken)).toEqual([false, true, false]);
    const facts = readFileFacts(bytesOf(text));
    expect(facts.faults).toEqual(faults);
    expect(facts.records.map(({ document, record }) => [document, record.id])).toEqual([
      [0, 'd-1'],
      [2, 'd-3'],
    ]);
    expect(facts.bareIds).toContainEqual({ kind: 'drive', id: 'd-2' });
    expect(facts.areIdsKnown).toBe(true);
  });

  it('may be empty, and may end with `...`', () => {
    const text = '---\n# nothing\n---\na: 1\n...\n---\n';
    const { tape, faults } = readWithYaml(text);
    expect(faults).toEqual([]);
    expect(tape.documents.map(({ root }) => root)).toEqual([-1, 0, -1]);
    expect(readFileFacts(bytesOf('---\n---\n# nothing\n'))).toEqual({
      records: [],
      bareIds: [],
      faults: [],
      areIdsKnown: true,
    });
  });

  it('each give their first fault only', () => {
    const text = 'a: [1\nb: "\\q"\n---\nc: "\\q" "\\q"\n';
    const { tape, faults } = readWithYaml(text);
    expect(tape.documents.map(({ isBroken }) => isBroken)).toEqual([true, true]);
    expect(faults).toHaveLength(2);
  });
});

describe('ids of what cannot be read', () => {
  const factsOf = (text: string): FileFacts => readFileFacts(bytesOf(text));
  const drive = (id: string) => ({ kind: 'drive', id });

  it('are found in every document that an unclosed quote swallows', () => {
    const text = 'kind: drive\nid: d-1\nlabel: "never closed\n---\nkind: drive\nid: d-2\n---\nid: d-3\nkind: board\n';
    const { records, bareIds, areIdsKnown } = factsOf(text);
    expect(records).toEqual([]);
    expect(bareIds).toEqual([drive('d-1'), drive('d-2'), { kind: 'board', id: 'd-3' }]);
    expect(areIdsKnown).toBe(true);
  });

  it.each([
    ['plain', 'kind: drive\nid: d-1\nx: [', [drive('d-1')]],
    ['quoted', 'kind: "drive"\nid: \'d-1\'\nx: [', [drive('d-1')]],
    ['behind a tab', 'kind:\tdrive\nid:\td-1\nx: [', [drive('d-1')]],
    [
      'with CRLF',
      'kind: drive\r\nid: d-1\r\nx: "\r\n--- # next\r\nkind: board\r\nid: b-1\r\n',
      [drive('d-1'), { kind: 'board', id: 'b-1' }],
    ],
    ['of an unknown kind', 'kind: disk\nid: d-1\nx: [', [{ kind: undefined, id: 'd-1' }]],
    ['without a kind', 'id: d-1\nx: [', [{ kind: undefined, id: 'd-1' }]],
    ['not on the line of the key', 'kind: drive\nid:\n  d-1\nx: [', []],
    ['not indented', 'kind: drive\nx:\n  id: d-1\ny: [', []],
    ['not in a comment', 'kind: drive\n# id: d-1\nx: [', []],
    ['not of a kind alone', 'kind: drive\nx: [', []],
  ])('%s', (_, text, bareIds) => {
    expect(factsOf(text)).toMatchObject({ records: [], bareIds, areIdsKnown: true });
  });

  it('are found in files nested too deep and files with too many aliases', () => {
    const head = 'kind: drive\nid: d-1\nfamily: tern-2\n';
    for (const rest of [`x-a: ${'['.repeat(65)}`, `x-a: &a 1\nx-b: [${'*a,'.repeat(1001)}]`]) {
      const { bareIds, faults } = factsOf(head + rest);
      expect(faults).toMatchObject([{ kind: 'too-deep' }]);
      expect(bareIds).toEqual([drive('d-1')]);
    }
  });

  it('are found in a document that is too large once its aliases are written out, beside whole ones', () => {
    const text = `kind: drive\nid: d-1\nfamily: tern-2\n---\nkind: drive\nid: d-2\n${laughs.join('\n')}\n`;
    const { records, bareIds, faults, areIdsKnown } = factsOf(text);
    expect(faults).toMatchObject([{ kind: 'too-deep' }]);
    expect(records.map(({ record }) => record.id)).toEqual(['d-1']);
    expect(bareIds).toEqual([drive('d-2')]);
    expect(areIdsKnown).toBe(true);
  });

  it('are found in a file of more than a million bytes, which is not parsed', () => {
    const head = 'kind: drive\nid: d-1\nfamily: tern-2\nnotes: ';
    const fits = factsOf(`${head}${'x'.repeat(1_000_000 - head.length)}`);
    expect(fits).toMatchObject({ records: [{ record: { id: 'd-1' } }], bareIds: [] });
    const text = `${head}${'é'.repeat((1_000_000 - head.length) / 2 + 1)}`;
    expect(text.length).toBeLessThan(1_000_000);
    expect(factsOf(text)).toEqual({
      records: [],
      bareIds: [drive('d-1')],
      faults: [{ kind: 'too-large', bytes: bytesOf(text).length }],
      areIdsKnown: true,
    });
  });

  it('stand as they are where the schema alone is broken', () => {
    expect(factsOf('kind: disk\nid: d-1\n')).toMatchObject({ records: [], bareIds: [{ kind: undefined, id: 'd-1' }] });
    expect(factsOf('kind: drive\nid: d-1\n')).toMatchObject({ records: [{ record: { id: 'd-1' } }], bareIds: [] });
  });

  it('are not looked for in whole files', () => {
    const { records, bareIds, faults } = factsOf('kind: drive\nid: d-1\nfamily: tern-2\n');
    expect({ count: records.length, bareIds, faults }).toEqual({ count: 1, bareIds: [], faults: [] });
  });

  it('cannot be known where there is no text', () => {
    const nothing = { records: [], bareIds: [], areIdsKnown: false };
    const utf16 = Uint8Array.from([0xff, 0xfe, 0x61, 0x00]);
    expect(readFileFacts(utf16)).toEqual({
      ...nothing,
      faults: [{ kind: 'not-text', reason: 'it is UTF-16, not UTF-8' }],
    });
    expect(unreadableFacts('permission denied')).toEqual({
      ...nothing,
      faults: [{ kind: 'unreadable', reason: 'permission denied' }],
    });
  });

  // A call takes some 120,000 arguments; faults handed on as such once ended the program. Slow, for the parser has to read them all.
  it('are no crash where one document holds more faults than a call takes arguments', () => {
    expect(factsOf(`{${'k,'.repeat(130_000)}}`).faults).toHaveLength(130_000);
  });
});
