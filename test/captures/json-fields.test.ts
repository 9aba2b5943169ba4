import { describe, expect, it } from 'vitest';
import { isJsonMap, JsonFields, parseJson } from '../../server/src/core/captures/json-fields.ts';
import { limits } from '../../server/src/core/syntax/limits.ts';

/** Lists and objects in turns, one in the other. */
function nested(depth: number): string {
  const opening = Array.from({ length: depth }, (_, at) => (at % 2 === 0 ? '[' : '{"a":'));
  const closing = opening.map((mark) => (mark === '[' ? ']' : '}')).reverse();
  return `${opening.join('')}1${closing.join('')}`;
}

describe('a text of JSON', () => {
  it.each([
    ['null', null],
    ['17', 17],
    [' {"a": [1, "b"]} ', { a: [1, 'b'] }],
    ['', undefined],
    ['{"a": ', undefined],
    ['{a: 1}', undefined],
  ])('%j', (text, value) => {
    expect(parseJson(text)).toEqual(value);
  });

  it('is read as deep as anything is, and no deeper', () => {
    expect(parseJson(nested(limits.depth))).toEqual(JSON.parse(nested(limits.depth)));
    expect(parseJson(nested(limits.depth + 1))).toBeUndefined();
  });

  it('is as deep as its deepest place, wherever that stands', () => {
    const wide = `[${Array.from({ length: limits.depth + 5 }, () => '[{}]').join(',')}]`;
    expect(parseJson(wide)).toEqual(JSON.parse(wide));
    expect(parseJson(`[[],${nested(limits.depth)},{}]`)).toBeUndefined();
    expect(parseJson(`[[],${nested(limits.depth - 1)},{}]`)).toBeDefined();
  });

  it.each([
    ['brackets within a text', '['],
    ['braces within a text', '{'],
    ['brackets behind a quotation mark within a text', '"['],
    ['brackets behind a backslash within a text', '\\['],
    ['brackets behind a backslash and a quotation mark', '\\"['],
  ])('%s make it no deeper', (_, part) => {
    const text = JSON.stringify({ a: part.repeat(3 * limits.depth) });
    expect(parseJson(text)).toEqual(JSON.parse(text));
  });

  it('is as deep as it is, with brackets that close within a text', () => {
    const opening = '["]}",'.repeat(limits.depth + 1);
    expect(parseJson(`${opening}1${']'.repeat(limits.depth + 1)}`)).toBeUndefined();
  });
});

it.each([
  [{}, true],
  [{ a: 1 }, true],
  [[], false],
  [null, false],
  ['a', false],
  [1, false],
  [undefined, false],
])('%j is an object: %j', (value, isMap) => {
  expect(isJsonMap(value)).toBe(isMap);
});

describe('a text among the fields', () => {
  it.each([
    ['plain', 'a', 'b', 'b'],
    ['with spaces around', 'a', ' b c ', 'b c'],
    ['of nothing', 'a', '', undefined],
    ['of spaces', 'a', '  ', undefined],
    ['that is a number', 'a', 17, undefined],
    ['that is null', 'a', null, undefined],
    ['of another key', 'b', 'c', undefined],
    ['that every object has', 'toString', 'c', undefined],
    ['below a text', 'a.length', 'c', undefined],
  ])('%s', (_, path, value, text) => {
    expect(new JsonFields({ a: value }).text(path)).toBe(text);
  });

  it('is found along a path', () => {
    const fields = new JsonFields({ a: { b: { c: 'd' } }, 'a.b': 'e', list: [{ c: 'f' }] });
    expect([fields.text('a.b.c'), fields.text('a.b'), fields.text('list.0.c'), fields.text('')]).toEqual([
      'd',
      undefined,
      undefined,
      undefined,
    ]);
  });
});

describe('a count among the fields', () => {
  it.each([
    [0, 0],
    [17, 17],
    ['17', 17],
    ['0', 0],
    ['9007199254740991', Number.MAX_SAFE_INTEGER],
    ['9007199254740992', undefined],
    ['00000000000000017', undefined],
    [2 ** 53, undefined],
    [-1, undefined],
    [1.5, undefined],
    ['1.5', undefined],
    ['-1', undefined],
    ['17 h', undefined],
    ['h 17', undefined],
    ['', undefined],
    [null, undefined],
    [true, undefined],
    [[], undefined],
    [['17'], undefined],
  ])('%j', (value, count) => {
    expect(new JsonFields({ a: value }).count('a')).toBe(count);
    expect(new JsonFields({ a: value }).counts(['a'])).toEqual(count === undefined ? undefined : [count]);
  });

  it('counts nothing where one is missing of several that belong together', () => {
    const fields = new JsonFields({ a: { b: 1, c: '2' }, d: 'x' });
    expect(fields.counts(['a.b', 'd'])).toBeUndefined();
    expect(fields.counts(['a.b', 'a.e'])).toBeUndefined();
    expect(fields.rest()).toEqual([
      { at: 'a.b', value: '1' },
      { at: 'a.c', value: '2' },
      { at: 'd', value: 'x' },
    ]);
    expect(fields.counts(['a.b', 'a.c'])).toEqual([1, 2]);
    expect(fields.rest()).toEqual([{ at: 'd', value: 'x' }]);
    expect(fields.counts([])).toEqual([]);
  });
});

it('gives the objects of a list, and nothing else of it', () => {
  const fields = new JsonFields({ a: [{ b: 1 }, 2, null, [3], {}], c: { d: 1 }, e: 'f' });
  expect(fields.maps('a')).toEqual([{ b: 1 }, {}]);
  expect(fields.maps('c')).toEqual([]);
  expect(fields.maps('e')).toEqual([]);
  expect(fields.maps('g')).toEqual([]);
  expect(fields.rest()).toEqual([
    { at: 'c.d', value: '1' },
    { at: 'e', value: 'f' },
  ]);
});

it.each([
  [false, true],
  ['0', true],
  [true, false],
  ['1', false],
  [0, false],
  ['', false],
  [null, false],
])('a switch that is %j is off: %j', (value, isOff) => {
  const fields = new JsonFields({ a: value, b: 1 });
  expect(fields.isOff('a')).toBe(isOff);
  const kept = value === null || value === '' ? [] : [{ at: 'a', value: String(value) }];
  expect(fields.rest()).toEqual([...(isOff ? [] : kept), { at: 'b', value: '1' }]);
});

it('keeps what nobody took, by key, and of an object by its keys', () => {
  const fields = new JsonFields({
    taken: 'a',
    empty: '',
    none: null,
    spaces: ' ',
    zero: 0,
    off: false,
    list: [1, { a: null }],
    map: { taken: 'b', empty: '', none: null, text: 'c', deep: { d: 1 } },
    nothing: {},
  });
  expect([fields.text('taken'), fields.text('map.taken'), fields.text('spaces')]).toEqual(['a', 'b', undefined]);
  expect(fields.rest()).toEqual([
    { at: 'spaces', value: ' ' },
    { at: 'zero', value: '0' },
    { at: 'off', value: 'false' },
    { at: 'list', value: '[1,{"a":null}]' },
    { at: 'map.text', value: 'c' },
    { at: 'map.deep', value: '{"d":1}' },
  ]);
});
