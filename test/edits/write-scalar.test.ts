import { describe, expect, it } from 'vitest';
import { foldedScalar, lineScalar, literalScalar, type ScalarStyle } from '../../server/src/core/edits/write-scalar.ts';

describe('a scalar on one line', () => {
  it.each<[string | number | boolean, ScalarStyle, string]>([
    ['x', 'plain', 'x'],
    ['x', 'single', "'x'"],
    ['x', 'double', '"x"'],
    ['x', 'literal', 'x'],
    ['x', 'folded', 'x'],
    ["it's", 'single', "'it''s'"],
    ['say "x"', 'single', `'say "x"'`],
    ['say "x"', 'double', '"say \\"x\\""'],
    ['"x"', 'double', `'"x"'`],
    ['"x" \'y\'', 'plain', '"\\"x\\" \'y\'"'],
    ['a\\b: "', 'plain', `'a\\b: "'`],
    ['a\\b\n', 'plain', '"a\\\\b\\n"'],
    ['a\tb', 'plain', '"a\\tb"'],
    ['\u0007', 'plain', '"\\u0007"'],
    ['\uffff', 'plain', '"\\uffff"'],
    ['\u{e0001}', 'plain', '"\\U000e0001"'],
    ['\u{10fffd}', 'plain', '"\\U0010fffd"'],
    ['\n', 'single', '"\\n"'],
    ['- x', 'plain', '"- x"'],
    ['-x', 'plain', '-x'],
    ['-', 'plain', '"-"'],
    ['-.x', 'plain', '-.x'],
    ['---', 'plain', '"---"'],
    ['...', 'plain', '"..."'],
    ['<<', 'plain', '"<<"'],
    ['<<x', 'plain', '<<x'],
    ['=', 'plain', '"="'],
    ['=x', 'plain', '=x'],
    ['x:', 'plain', '"x:"'],
    ['x:y', 'plain', 'x:y'],
    ['x#y', 'plain', 'x#y'],
    ['x ', 'plain', '"x "'],
    [' x', 'plain', '" x"'],
    ['\u00a0x', 'plain', '"\u00a0x"'],
    ['', 'plain', '""'],
    ['null', 'plain', '"null"'],
    [1, 'double', '1'],
    [true, 'single', 'true'],
  ])('%j, %s', (value, style, typed) => expect(lineScalar(value, style, false)).toBe(typed));
});

describe('a text over lines', () => {
  it.each<[string, string | undefined]>([
    ['a', '|-/a'],
    ['a\n', '|/a'],
    ['a\n\n', undefined],
    ['a\n \n', undefined],
    ['a\n ', undefined],
    ['\na', '|-//a'],
    [' a', undefined],
    ['\n a', undefined],
    ['a\tb\n\tc', '|-/a\tb/\tc'],
    ['a\u0007', undefined],
    ['a\nb\u0007', undefined],
    ['\n', undefined],
    ['', undefined],
  ])('as it was typed: %j', (text, typed) => {
    const block = literalScalar(text);
    expect(block && [block.header, ...block.lines].join('/')).toBe(typed);
  });

  it.each<[string, string | undefined]>([
    ['a b c d e', '>-/a b c/d e'],
    ['a b cc d', '>-/a b/cc d'],
    ['abcdefgh i', '>-/abcdefgh/i'],
    ['a  b  c  d', '>-/a  b  c  d'],
    ['a\nb\n', '>/a//b'],
    ['a\n\nb', '>-/a///b'],
    ['\na', undefined],
    ['a \nb', undefined],
    ['a\n b', undefined],
    ['a\u0007', undefined],
  ])('wrapped at five columns: %j', (text, typed) => {
    const block = foldedScalar(text, 5);
    expect(block && [block.header, ...block.lines].join('/')).toBe(typed);
  });
});
