import { describe, expect, it } from 'vitest';
import { contentEnd, dashesOf, entryAt, isFlow, linesEnd } from '../../server/src/core/edits/entry-spans.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';

describe('where the parts of an entry stand', () => {
  it.each([
    ['{}', 0, true],
    ['[]', 0, true],
    ['{a: 1}', 0, true],
    ['{a: 1}', 1, false],
    ['[a]', 0, true],
    ['a: 1', 0, false],
    ['- a', 0, false],
    ['"{": 1', 0, false],
    ['"["', 0, false],
    ['"{"', 0, false],
    ['[a, b]: 1', 0, false],
    ['{a: 1}: 1', 0, false],
    ['[[a]]', 0, true],
    ['- [a]', 1, true],
    ['{? a : 1}', 0, true],
    ['[a: 1]', 1, false],
  ])('brackets in %j, entry %i', (text, index, expected) => expect(isFlow(readText(text).tape, index)).toBe(expected));

  it('is asked of entries that are there', () => {
    expect(() => entryAt(readText('a').tape, 1)).toThrow('The tape has no entry 1');
  });

  it.each([
    ['a: b # c', 'a: b'],
    ['a: # c', 'a:'],
    ['{a}', '{a}'],
    ['a: |\n  b\n', 'a: |\n  b'],
    ['a: |\r\n  b\r\n', 'a: |\r\n  b'],
    ['a: |+\n  b\n\n', 'a: |+\n  b\n'],
    ['a: |\n  b', 'a: |\n  b'],
    ['- a:\n    - b # c\n', '- a:\n    - b'],
    ['a: [b, # c\n  d] # e', 'a: [b, # c\n  d]'],
    ['-', '-'],
    ['a: "b\n"', 'a: "b\n"'],
  ])('the end of the content of %j', (text, upToThere) => {
    expect(text.slice(0, contentEnd(readText(text).tape, 0))).toBe(upToThere);
  });

  it.each([
    ['a: 1 # b\n  # c\n# d\n', 0, 'a: 1 # b\n  # c'],
    ['a: 1\n # c', 0, 'a: 1\n # c'],
    ['a: 1\n # c\n', 1, 'a: 1'],
    ['a: 1\n\n # c\n', 0, 'a: 1'],
    ['a: 1', 0, 'a: 1'],
    ['a: 1\n', 0, 'a: 1'],
    ['a: 1\n # c\n', 0, 'a: 1\n # c'],
    ['a: 1\r\n\t# c\r\nb: 1', 9, 'a: 1\r\n\t# c\r\nb: 1'],
  ])('the last line of %j, further right than %i', (text, column, upToThere) => {
    expect(text.slice(0, linesEnd(readText(text).tape, 0, column))).toBe(upToThere);
  });

  it('are the dashes of a list', () => {
    expect(dashesOf(readText('- a - b\n- - c\n  - d\n-\n-\n# -\n- "-"\n').tape, 0)).toEqual([0, 8, 20, 22, 28]);
  });
});
