import { describe, expect, it } from 'vitest';
import type { Intent, Value } from '../../server/src/core/edits/intent.ts';
import { create, edited, insert, remove, rename, set } from '../harness/edited-text.ts';

const outcome = `# Tried twice.
kind: outcome
id: swap-1
date: 2026-03-14
patient: d-0117   # the wet one
rom: left
host: {name: bench-1, port: onboard}
controls:
  donor_on_own_board: works
  # Not on this host.
  patient_on_own_board: fails
observed:
  spins: true
  # and nothing else
reached: spins
notes: >-
  Some prose.
`;

describe('set', () => {
  it('puts new keys where the schema has them, in the habits of the file', () => {
    const text = edited(
      outcome,
      set(['donor'], 'd-0118'),
      set(['host', 'meets'], ['spin_up_command']),
      set(['controls', 'swapped_back'], 'both_work'),
      set(['verify'], [{ errors: 0, method: 'checksum_scrub' }]),
      set(['result'], 'fails'),
    );
    expect(text).toBe(`# Tried twice.
kind: outcome
id: swap-1
date: 2026-03-14
patient: d-0117   # the wet one
donor: d-0118
rom: left
host: {name: bench-1, port: onboard, meets: [spin_up_command]}
controls:
  donor_on_own_board: works
  # Not on this host.
  patient_on_own_board: fails
  swapped_back: both_work
observed:
  spins: true
  # and nothing else
verify:
  - {method: checksum_scrub, errors: 0}
reached: spins
result: fails
notes: >-
  Some prose.
`);
  });

  it.each<[string, string, Value, string]>([
    ['comments behind the value', 'rom: left # as read\n', 'chip_moved', 'rom: chip_moved # as read\n'],
    ['double quotes', 'rom: "left"\n', 'chip_moved', 'rom: "chip_moved"\n'],
    ['single quotes', "rom: 'left'\n", "it's", "rom: 'it''s'\n"],
    ['no line end', 'rom: left', ['left', 'chip_moved'], 'rom: [left, chip_moved]'],
    [
      'line ends of the neighbouring line',
      'id: a\r\nrom: left',
      { a: 'x\ny' },
      'id: a\r\nrom:\r\n  a: |-\r\n    x\r\n    y',
    ],
    [
      'line ends of the line it stands on',
      'id: a\r\nrom: left\nby: x\r\n',
      { a: 'x\ny' },
      'id: a\r\nrom:\n  a: |-\n    x\n    y\nby: x\r\n',
    ],
    ['a comment where lines have to follow', 'rom: left # c\n', { a: 'x\ny' }, 'rom: # c\n  a: |-\n    x\n    y\n'],
    ['a comment behind nothing', 'rom: # c\nid: a\n', 'left', 'rom: left # c\nid: a\n'],
    ['a comment behind a block header', 'rom: | # c\n  x\nid: a\n', 3, 'rom: 3 # c\nid: a\n'],
    ['a comment above the value', 'rom:\n  # c\n  left\n', 'x', 'rom:\n  # c\n  x\n'],
    ['wrapped text', 'rom: >-\n  a\n  b\nid: a\n', 'c d', 'rom: >-\n  c d\nid: a\n'],
  ])('keeps %s', (_, before, value, after) => expect(edited(before, set(['rom'], value))).toBe(after));

  it.each<[Value, string]>([
    ['0007', '"0007"'],
    ['true', '"true"'],
    ['~', '"~"'],
    ['****4F2K', '"****4F2K"'],
    ['a: b', '"a: b"'],
    ['x # y', '"x # y"'],
    ['say "x"', 'say "x"'],
    ['"x"', '\'"x"\''],
    ['2026-03-14', '2026-03-14'],
    ['off', 'off'],
    ['é😀', 'é😀'],
    ['\u202e', '"\\u202e"'],
    [0.02, '0.02'],
    [-0, '-0'],
    [500107862016, '500107862016'],
    ['one\ntwo\n', '|\n  one\n  two'],
    ['one\n\ntwo', '|-\n  one\n\n  two'],
    [' one\ntwo', '" one\\ntwo"'],
    [`${'words '.repeat(25)}end`, `>-\n  ${'words '.repeat(13)}words\n  ${'words '.repeat(11)}end`],
    [{}, '{}'],
    [[], '[]'],
    [['a, b', '[c'], '["a, b", "[c"]'],
  ])('writes %j so that it reads as the same, plain where that is safe', (value, typed) =>
    expect(edited('rom: left\n', set(['rom'], value))).toBe(`rom: ${typed}\n`),
  );

  it('changes of a map or list only what differs, so that comments stay', () => {
    const before = 'when:\n  same: [rev] # yes\n  # why\n  rom_travels: true\n';
    expect(edited(before, set(['when'], { same: ['board', 'rev'], patient: { rev: 'a/1' } }))).toBe(
      'when:\n  same: [board, rev] # yes\n  # why\n  patient: { rev: a/1 }\n',
    );
  });
});

describe('insert and remove', () => {
  const board = `kind: board
revisions:
  - rev: "1" # the first
    roms:
      - {location: U7}
  # the second
  - rev: "2"
notes: x
`;

  it('keep the layout of lists', () => {
    const more = edited(
      board,
      insert(['revisions', 0], { rev: '0' }),
      insert(['revisions', 1, 'roms', 1], { location: 'U8' }),
      insert(['revisions', 3], { rev: '3', controller: 'ZW1' }),
    );
    expect(more).toBe(`kind: board
revisions:
  - rev: "0"
  - rev: "1" # the first
    roms:
      - {location: U7}
      - {location: U8}
  # the second
  - rev: "2"
  - rev: "3"
    controller: ZW1
notes: x
`);
    expect(edited(more, remove('revisions', 3), remove('revisions', 1, 'roms', 1), remove('revisions', 0))).toBe(board);
  });

  it('leave brackets where the last member goes', () => {
    expect(edited('a: [x] # c\nb:\n  c: 1\n', remove('a', 0), remove('b', 'c'))).toBe('a: [] # c\nb: {}\n');
  });

  it('move what follows up to the dash', () => {
    expect(edited('a:\n  - b: 1\n    c: 2\n', remove('a', 0, 'b'))).toBe('a:\n  - c: 2\n');
  });

  it('take the comment behind the member along, and none above it', () => {
    expect(edited('a: 1\n# above\nb: 2 # behind\nc: 3', remove('b'))).toBe('a: 1\n# above\nc: 3');
    expect(edited('a: 1\nb: 2 # behind', remove('b'))).toBe('a: 1');
  });

  it('write lists between brackets as they stand', () => {
    const list = 'a: [\n  x, # first\n  y # second\n]\n';
    const longer = 'a: [\n  x, # first\n  y, # second\n  z\n]\n';
    expect(edited(list, insert(['a', 2], 'z'))).toBe(longer);
    expect(edited(longer, remove('a', 2))).toBe(list);
    expect(edited('{"a": ["x"]}\n', insert(['a', 0], 'y'), set(['b'], 'z'))).toBe('{"a": ["y", "x"], "b": "z"}\n');
  });
});

describe('rename and create', () => {
  it('give a key another name in the quotes it has', () => {
    expect(edited('"a": 1 # c\n', rename(['a'], 'b'))).toBe('"b": 1 # c\n');
    expect(edited('a: 1\n', rename(['a'], '7'))).toBe('"7": 1\n');
  });

  it('add a document in the order of the schema', () => {
    const rule = { when: { same: ['rev'] }, id: 'r-1', kind: 'rule', claim: 'needs' };
    expect(edited('', create(rule))).toBe('kind: rule\nid: r-1\nclaim: needs\nwhen: { same: [rev] }\n');
    expect(edited('kind: x\r\n', create({ id: 'a' }))).toBe('kind: x\r\n---\r\nid: a\r\n');
    expect(edited('kind: x', create({ id: 'a' }))).toBe('kind: x\n---\nid: a');
    expect(edited('a: 1\n---\n', create({ id: 'a' }))).toBe('a: 1\n---\nid: a\n');
  });
});

describe('several documents', () => {
  it('are edited each by itself', () => {
    expect(edited('a: 1\n---\na: 2\n', set(['a'], 3, 1), set(['b'], 4))).toBe('a: 1\nb: 4\n---\na: 3\n');
    expect(edited('a: [\n---\na: 2\n', set(['a'], 3, 1))).toBe('a: [\n---\na: 3\n');
  });
});

describe('what cannot be done safely', () => {
  it.each<[string, Intent, string]>([
    ['a: [\n', set(['a'], 1), 'The YAML around this cannot be read; that has to be mended first.'],
    [
      'a: &x {b: 1}\nc: *x\n',
      set(['a', 'b'], 2),
      'The alias `*x` repeats this elsewhere, so it would change there too.',
    ],
    ['a: &x {b: 1}\nc: *x\n', remove('a'), 'The alias `*x` repeats this elsewhere, so it would change there too.'],
    [
      'a: &x {b: 1}\nc: *x\n',
      set(['c', 'b'], 2),
      'What stands here is repeated by `*x`; it has to be changed where it is written.',
    ],
    [
      '<<: {b: 1}\nc: 1\n',
      set(['c'], 2),
      'The key `<<` stands here, which some programs read as values from elsewhere.',
    ],
    ['a: 1\na: 2\n', set(['a'], 3), 'The key `a` stands here twice.'],
    ['a: !!str 1\n', set(['a'], 3), 'The value has the tag `tag:yaml.org,2002:str`; it has to be edited by hand.'],
    ['? a\n: 1\n', set(['b'], 3), 'A key here has an anchor, a tag or a `?` before it; this has to be edited by hand.'],
    ['a:\n  b: 1 # d\n  c: 2\n', set(['a'], 3), 'Comments stand in what would be replaced.'],
    ['a: 1\n', set(['a', 'b'], 3), 'A value stands where `b` would need a map.'],
    ['a: [x]\n', set(['a', 1], 3), 'There is no such entry in the list.'],
    ['a: [x]\n', insert(['a', 2], 3), 'There is no such entry in the list.'],
    ['a: 1\n', insert(['a'], 3), 'The key `a` is there already.'],
    ['a: 1\nb: 2\n', rename(['a'], 'b'), 'The key `b` is there already.'],
    ['a: 1\n', rename(['b'], 'c'), 'There is no such key.'],
    ['a: 1\n', remove('b'), 'What is to be removed is not there.'],
    ['a: 1\n', remove('a'), 'Nothing would be left of the document.'],
    ['a: 1\n', set(['a'], 1, 1), 'The file has no document 2.'],
  ])('is refused in words: %j', (text, intent, words) => expect(edited(text, intent)).toBe(words));

  it('is refused as a whole', () => {
    expect(edited('a: 1\n', set(['a'], 2), remove('b'))).toBe('What is to be removed is not there.');
  });
});
