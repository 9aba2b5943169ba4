import { describe, expect, it } from 'vitest';
import { formatText } from '../../server/src/core/edits/format-text.ts';
import { replaceIn } from '../../server/src/core/edits/text-edit.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';

/** The text laid out, or the lines of it that one stretch of it touches. */
function formatted(text: string, part = text): string {
  const start = text.indexOf(part);
  return replaceIn(text, formatText(readText(text).tape, { start, end: start + part.length }));
}

describe('format text', () => {
  it.each([
    ['one space behind colons and dashes', 'a:   1\nb :\t2\nc:\n  -   x\n', 'a: 1\nb: 2\nc:\n  - x\n'],
    ['between brackets', 'a: {b: 1,c :2 , d: [ x,y ],e: {  }}\n', 'a: { b: 1, c :2, d: [x, y], e: {} }\n'],
    ['quoted keys between brackets', 'a: {"b":1}\n', 'a: { "b": 1 }\n'],
    ['two columns inwards', 'a:\n    b:\n     - c: 1\n       d: 2\n', 'a:\n  b:\n    - c: 1\n      d: 2\n'],
    ['lists further right than their key', 'a:\n- b\n-   c: 1\n    d: 2\n', 'a:\n  - b\n  - c: 1\n    d: 2\n'],
    ['lists in lists', 'a:\n-   -   b\n    - c\n', 'a:\n  - - b\n    - c\n'],
    ['whole documents', '  a: 1\n  b: 2\n', 'a: 1\nb: 2\n'],
    ['lines between brackets', 'a: [\n      b,\n c ]\n', 'a: [\n  b,\n  c]\n'],
    [
      'brackets that close below',
      'a:\n-  {\n   b: [\n   c\n     ]\n    }\n',
      'a:\n  - {\n      b: [\n        c\n      ]\n    }\n',
    ],
    ['a bracket that closes below its key', 'a: {\n    b: 1\n}\n', 'a: {\n  b: 1\n}\n'],
    ['texts without quotes', 'a: one\n     two \n\n   three\n', 'a: one\n  two\n\n  three\n'],
    ['blank lines and white space', '\n\na: 1 \t\n \n\n\nb: 2\n\n\n', 'a: 1\n\nb: 2\n'],
    ['the end of a file', 'a: 1', 'a: 1\n'],
    ['the ends of documents', 'a: 1\n\n---\n\nb: 1\n  \n', 'a: 1\n---\nb: 1\n'],
    ['with the line ends of the file', 'a:  1\r\n\r\n\r\nb: 2', 'a: 1\r\n\r\nb: 2\r\n'],
    ['anchors and tags', 'a:  &x   !!str  b\nc:   *x\n', 'a: &x !!str b\nc: *x\n'],
    ['names of anchors that are keys', '&a b:  1\n*a :  2\n', '&a b: 1\n*a : 2\n'],
  ])('%s', (_, text, after) => {
    expect(formatted(text)).toBe(after);
  });

  it('moves comments with what they are about', () => {
    const text =
      '# top\na:\n# of b\n    b: 1\n    # of c\n    c: 1\n    # last here\n  # between\nd:\n- x\n# of e\ne: 1\n   # end\n';
    expect(formatted(text)).toBe(
      '# top\na:\n  # of b\n  b: 1\n  # of c\n  c: 1\n  # last here\n# between\nd:\n  - x\n# of e\ne: 1\n# end\n',
    );
  });

  it('leaves comments lined up behind values', () => {
    const text = 'a: 1         # one\nbee: 2       # two\n';
    expect(formatted(text)).toBe(text);
  });

  it('moves block texts with what they belong to, and keeps what stands in them', () => {
    const text = 'a:\n    b: |\n         x \n           y\n\n\n        \n         z\n    c: 1\n';
    expect(formatted(text)).toBe('a:\n  b: |\n    x \n      y\n\n\n    \n    z\n  c: 1\n');
  });

  it('keeps the indent of whatever holds block text that counts it', () => {
    const text = 'a:\n    b: |2\n       x\nc:\n    d:   1\n';
    expect(formatted(text)).toBe('a:\n    b: |2\n       x\nc:\n  d: 1\n');
  });

  it('keeps blank lines that block text ends with and counts', () => {
    const text = 'a: |+\n  x\n\n\nb: 1\n';
    expect(formatted(text)).toBe(text);
    expect(formatted('a: |\n  x\n\n\nb: 1\n')).toBe('a: |\n  x\n\nb: 1\n');
  });

  it('moves the lines of a quoted text only where what it belongs to moves', () => {
    expect(formatted('a: "x  \n    y  "\n')).toBe('a: "x  \n    y  "\n');
    expect(formatted('a:\n    b: "x  \n       y  "\n')).toBe('a:\n  b: "x  \n     y  "\n');
  });

  it.each([
    ['broken', 'a:   [\n'],
    ['with keys after `?`', '? a\n:   b\n'],
    ['that end with `...`', 'a:   b\n...\n'],
    ['with a text that goes on at the left edge', 'a:\n# c\n  b\nd\n'],
    ['that are a text', '---   a\n\n\n'],
    ['with line ends that not everybody knows', 'a:   b\rc: d\n'],
    ['empty', '\n\n'],
  ])('leaves alone documents %s', (_, text) => {
    expect(formatted(text)).toBe(text);
  });

  it('lays out the neighbours of a broken document', () => {
    expect(formatted('a:  1\n---\nb:  [\n---\nc:  1\n')).toBe('a: 1\n---\nb:  [\n---\nc: 1\n');
  });

  it('keeps the indent of a map or list of which a line lies outside the range', () => {
    const text = 'a:\n    b:  1\n    c:\n    -  x\n    -  y\n    d:  1\n';
    expect(formatted(text, '    -  x\n    -  y\n')).toBe('a:\n    b:  1\n    c:\n      - x\n      - y\n    d:  1\n');
    expect(formatted(text, '    b:  1\n')).toBe('a:\n    b: 1\n    c:\n    -  x\n    -  y\n    d:  1\n');
  });

  it('never makes a comment outside the range part of a text', () => {
    const text = 'a: |\n    x\n  # no text\n';
    expect(formatted(text, '    x\n')).toBe(text);
    expect(formatted(text)).toBe('a: |\n  x\n# no text\n');
  });

  it('takes the line of a cursor for a range', () => {
    expect(replaceIn('a:  1\nb:  1\n', formatText(readText('a:  1\nb:  1\n').tape, { start: 7, end: 7 }))).toBe(
      'a:  1\nb: 1\n',
    );
  });
});
