import { describe, expect, it } from 'vitest';
import { LineIndex } from '../../server/src/core/text/line-index.ts';

const at = (line: number, character: number) => ({ line, character });

describe('lines', () => {
  // Source: LSP 3.17, "Text Documents": lines end with \n, \r\n or \r. YAML 1.2.2, 5.4 names the same three.
  it.each([
    ['', ['']],
    ['a', ['a']],
    ['a\n', ['a', '']],
    ['a\nb', ['a', 'b']],
    ['a\r\nb', ['a', 'b']],
    ['a\rb', ['a', 'b']],
    ['\n', ['', '']],
    ['\r\n', ['', '']],
    ['\r', ['', '']],
    ['\n\r', ['', '', '']],
    ['a\r\rb\r\n\nc', ['a', '', 'b', '', 'c']],
    ['a\r\n\r\n', ['a', '', '']],
    ['a\r\r\n', ['a', '', '']],
    ['a\u2028b\u0085c\vd\fe', ['a\u2028b\u0085c\vd\fe']],
  ])('%j holds %j', (text, lines) => {
    const index = new LineIndex(text);
    expect(lines.map((_, line) => index.lineText(line))).toEqual(lines);
    expect(index.positionAt(text.length).line).toBe(lines.length - 1);
    expect(index.lineText(lines.length)).toBe('');
  });
});

describe('offset to position', () => {
  it.each([
    ['a\nbc', [at(0, 0), at(0, 1), at(1, 0), at(1, 1), at(1, 2)]],
    ['a\rbc', [at(0, 0), at(0, 1), at(1, 0), at(1, 1), at(1, 2)]],
    ['\n\n', [at(0, 0), at(1, 0), at(2, 0)]],
    // Source: LSP 3.17, "Position": characters are UTF-16 code units, so what lies beyond U+FFFF counts twice.
    ['a😀b\nc', [at(0, 0), at(0, 1), at(0, 2), at(0, 3), at(0, 4), at(1, 0), at(1, 1)]],
    ['é\n', [at(0, 0), at(0, 1), at(1, 0)]],
    ['e\u0301\n', [at(0, 0), at(0, 1), at(0, 2), at(1, 0)]],
  ])('%j, offset by offset, and back', (text, positions) => {
    const index = new LineIndex(text);
    expect(Array.from({ length: text.length + 1 }, (_, offset) => index.positionAt(offset))).toEqual(positions);
    expect(positions.map((position) => index.offsetAt(position))).toEqual(positions.map((_, offset) => offset));
  });

  it('between \\r and \\n is still on the line that they end, and leads back to its end', () => {
    const index = new LineIndex('ab\r\nc');
    expect([2, 3, 4].map((offset) => index.positionAt(offset).line)).toEqual([0, 0, 1]);
    expect(index.positionAt(4)).toEqual(at(1, 0));
    expect(index.offsetAt(index.positionAt(3))).toBe(2);
  });

  it('outside the text is at its ends', () => {
    const index = new LineIndex('ab\ncd');
    expect(index.positionAt(-3)).toEqual(at(0, 0));
    expect(index.positionAt(99)).toEqual(at(1, 2));
  });

  it('gives ranges over lines', () => {
    expect(new LineIndex('ab\r\ncd\r\n').rangeOf(1, 8)).toEqual({ start: at(0, 1), end: at(2, 0) });
  });
});

describe('position to offset', () => {
  // Source: LSP 3.17, "Position": a character past the end of its line means the end of the line.
  it.each([
    ['ab\ncd', at(0, 99), 2],
    ['ab\r\ncd', at(0, 99), 2],
    ['ab\r\ncd', at(0, 3), 2],
    ['ab\rcd', at(0, 99), 2],
    ['ab\ncd', at(1, 99), 5],
    ['ab\n', at(1, 0), 3],
    ['ab\n', at(1, 7), 3],
    ['ab\ncd', at(2, 0), 5],
    ['ab\ncd', at(99, 99), 5],
    ['', at(0, 0), 0],
    ['', at(3, 3), 0],
    ['a😀b', at(0, 3), 3],
  ])('%j %o is %i', (text, position, offset) => {
    expect(new LineIndex(text).offsetAt(position)).toBe(offset);
  });

  it('finds each of ten thousand lines', () => {
    const text = 'kind: drive\r\n'.repeat(10_000);
    const index = new LineIndex(text);
    for (let line = 0; line <= 10_000; line++) {
      expect(index.offsetAt(at(line, 0))).toBe(line * 13);
      expect(index.positionAt(line * 13)).toEqual(at(line, 0));
    }
  });
});
