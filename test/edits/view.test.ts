import { describe, expect, it } from 'vitest';
import type { PlacedIntent, Value } from '../../server/src/core/edits/intent.ts';
import { isSameView, type View, viewAfter, viewOf, viewOfValue } from '../../server/src/core/edits/view.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';

/** How the first document of a text reads. */
function view(text: string): View | undefined {
  const { tape } = readText(text);
  return viewOf(tape, tape.documents[0]?.root ?? -1);
}

const scalar = (value: string | number | boolean | null, tag?: string): View => ({ is: 'scalar', tag, value });

describe('a view', () => {
  it('says of a text all that reading makes of it', () => {
    expect(view('# c\na: &x 0x10\n"b": [*x, !t "16", ~, on]\na:\nc: {}\nd: []\n')).toEqual({
      is: 'map',
      tag: undefined,
      pairs: [
        ['a', scalar(16)],
        [
          'b',
          {
            is: 'list',
            tag: undefined,
            items: [{ is: 'alias', name: '*x', isKnown: true }, scalar('16', '!t'), scalar(null), scalar('on')],
          },
        ],
        ['a', scalar(null)],
        ['c', { is: 'map', tag: undefined, pairs: [] }],
        ['d', { is: 'list', tag: undefined, items: [] }],
      ],
    });
    expect(view('!m {a: !l [true]}')).toEqual({
      is: 'map',
      tag: '!m',
      pairs: [['a', { is: 'list', tag: '!l', items: [scalar(true)] }]],
    });
    expect(view('a: *x')).toEqual({
      is: 'map',
      tag: undefined,
      pairs: [['a', { is: 'alias', name: '*x', isKnown: false }]],
    });
    expect(view('&x [*x]')).toEqual({
      is: 'list',
      tag: undefined,
      items: [{ is: 'alias', name: '*x', isKnown: false }],
    });
    expect(view('# c\n')).toBe(undefined);
  });

  it.each<[Value, string]>([
    ['x', 'x'],
    [1, '1'],
    [-0, '-0'],
    [true, 'true'],
    [['x', [2]], '[x, [2]]'],
    [{ a: 'x', b: { c: [] } }, 'a: x\nb: {c: []}'],
  ])('of the value %j is that of %j', (value, text) => expect(viewOfValue(value)).toEqual(view(text)));

  it.each([
    ['x', '"x"', true],
    ['16', '0x10', true],
    ['16', '"16"', false],
    ['0', '-0', false],
    ['', '', true],
    ['', 'x', false],
    ['x', '', false],
    ['x', '!t x', false],
    ['!t x', '!t "x"', true],
    ['!t x', '!u x', false],
    ['x', '[x]', false],
    ['[x]', 'x', false],
    ['[x]', '{x: x}', false],
    ['{x: x}', '[x]', false],
    ['{x: x}', 'x', false],
    ['x', '{x: x}', false],
    ['[]', '{}', false],
    ['{}', '[]', false],
    ['[x]', '- x', true],
    ['[x]', '!t [x]', false],
    ['[x, y]', '[y, x]', false],
    ['[x, y]', '[x, y, z]', false],
    ['[x, y, z]', '[x, y]', false],
    ['[x, y]', '[x, z]', false],
    ['[x, y]', '[z, y]', false],
    ['{a: 1, b: 2}', 'b: 2\na: 1', true],
    ['{a: 1, b: 2, c: 3}', '{c: 3, a: 1, b: 2}', true],
    ['{a: 1, b: 1}', '{b: 1, c: 1}', false],
    ['{a: 1, c: 1}', '{a: 1, b: 1}', false],
    ['{a: 1, b: 2}', '{a: 2, b: 1}', false],
    ['{a: 1, b: 2}', '{a: 1}', false],
    ['{a: 1}', '{a: 1, b: 2}', false],
    ['{a: 1}', '!t {a: 1}', false],
    ['{a: 1, a: 2}', '{a: 2, a: 1}', false],
    ['{b: 0, a: 1, a: 2}', '{a: 1, b: 0, a: 2}', true],
    ['{a: 1, a: 1}', '{a: 1}', false],
    ['{a: {b: 1}}', '{a: {b: 2}}', false],
    ['[&x a, *x]', '- &x a\n- *x', true],
    ['[&x a, *x]', '[&x a, a]', false],
    ['[&x a, a]', '[&x a, *x]', false],
    ['[&x a, &y a, *x]', '[&x a, &y a, *y]', false],
    ['[a, *x]', '[&x a, *x]', false],
    ['[&x a, *x]', '[&x a, [*x]]', false],
    ['[&x a, [*x]]', '[&x a, *x]', false],
    ['[*x]', '["*x"]', false],
  ])('of %j beside that of %j', (a, b, isSame) => expect(isSameView(view(a), view(b))).toBe(isSame));

  const at = (path: PlacedIntent['path']): { readonly document: number; readonly path: PlacedIntent['path'] } => ({
    document: 0,
    path,
  });
  it.each<[string, PlacedIntent, string]>([
    ['a: 1', { intent: 'set', ...at([]), value: { b: 2 } }, 'b: 2'],
    ['a: 1', { intent: 'set', ...at(['a']), value: 2 }, 'a: 2'],
    ['a: 1', { intent: 'set', ...at(['b']), value: 2 }, '{a: 1, b: 2}'],
    ['a: 1', { intent: 'set', ...at(['b', 'c']), value: 2 }, '{a: 1, b: {c: 2}}'],
    ['{a: 1, b: 2, c: 3}', { intent: 'set', ...at(['b']), value: 4 }, '{a: 1, b: 4, c: 3}'],
    ['!t {a: !u {b: 1}}', { intent: 'set', ...at(['a', 'b']), value: 2 }, '!t {a: !u {b: 2}}'],
    ['!t {a: !u [1, 2]}', { intent: 'set', ...at(['a', 1]), value: 3 }, '!t {a: !u [1, 3]}'],
    ['[1, [2, 3]]', { intent: 'set', ...at([1, 0]), value: 4 }, '[1, [4, 3]]'],
    ['a:', { intent: 'set', ...at(['a', 'b']), value: 4 }, 'a: {b: 4}'],
    ['{a: 1, a: 2}', { intent: 'set', ...at(['a']), value: 4 }, '{a: 4, a: 2}'],
    ['{a: 1}', { intent: 'insert', ...at([]), value: 4 }, '{a: 1}'],
    ['{a: 1}', { intent: 'insert', ...at(['b']), value: 4 }, '{a: 1, b: 4}'],
    ['!t [1, 2]', { intent: 'insert', ...at([0]), value: 4 }, '!t [4, 1, 2]'],
    ['[1, 2]', { intent: 'insert', ...at([1]), value: 4 }, '[1, 4, 2]'],
    ['[1, 2]', { intent: 'insert', ...at([2]), value: 4 }, '[1, 2, 4]'],
    ['a: [1, 2]', { intent: 'insert', ...at(['a', 2]), value: 4 }, 'a: [1, 2, 4]'],
    ['', { intent: 'insert', ...at([0]), value: 4 }, '[4]'],
    ['!t x', { intent: 'insert', ...at([0]), value: 4 }, '[4]'],
    ['!t {a: 1, b: 2}', { intent: 'remove', ...at(['a']) }, '!t {b: 2}'],
    ['{a: 1, b: 2}', { intent: 'remove', ...at(['c']) }, '{a: 1, b: 2}'],
    ['[1, 2, 3]', { intent: 'remove', ...at([1]) }, '[1, 3]'],
    ['[1, [2, 3]]', { intent: 'remove', ...at([1, 1]) }, '[1, [2]]'],
    ['!t {a: 1, b: 2}', { intent: 'rename', ...at(['b']), name: 'c' }, '!t {a: 1, c: 2}'],
    ['{a: 1, b: 2, b: 3}', { intent: 'rename', ...at(['b']), name: 'c' }, '{a: 1, c: 2, b: 3}'],
    ['{a: {a: 1}}', { intent: 'rename', ...at(['a', 'a']), name: 'c' }, '{a: {c: 1}}'],
    ['[1, {a: 1}]', { intent: 'rename', ...at([1, 'a']), name: 'c' }, '[1, {c: 1}]'],
    ['[1, 2]', { intent: 'rename', ...at([1]), name: 'c' }, '[1, 2]'],
    ['', { intent: 'rename', ...at(['a']), name: 'c' }, ''],
    ['{b: 1, a: 2}', { intent: 'sort', ...at([]) }, '{b: 1, a: 2}'],
    ['{b: {d: 1, c: 2}}', { intent: 'sort', ...at(['b']) }, '{b: {d: 1, c: 2}}'],
  ])('of %j after %j is that of %j', (text, intent, after) => {
    expect(viewAfter(view(text), intent)).toEqual(view(after));
  });

  it('of nothing after an intent is that of a map', () => {
    expect(viewAfter(undefined, { intent: 'set', document: 0, path: ['a', 'b'], value: 1 })).toEqual(view('a: {b: 1}'));
    expect(viewAfter(undefined, { intent: 'insert', document: 0, path: [0], value: 1 })).toEqual(view('[1]'));
    expect(viewAfter(undefined, { intent: 'insert', document: 0, path: ['a'], value: 1 })).toEqual(view('a: 1'));
    expect(viewAfter(undefined, { intent: 'rename', document: 0, path: ['a'], name: 'b' })).toBe(undefined);
  });
});
