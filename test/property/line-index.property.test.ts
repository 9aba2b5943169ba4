import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LineIndex } from '../../server/src/core/text/line-index.ts';
import { assertLaw } from '../harness/assert-law.ts';

const pieces = fc.constantFrom('a', 'é', '😀', ' ', '\t', '\u2028', '\n', '\r', '\r\n');
const texts = fc.array(pieces, { maxLength: 20 }).map((found) => found.join(''));

/** The lines of a text without their ends, found another way. */
function linesOf(text: string): string[] {
  return text.split(/\r\n|\r|\n/);
}

describe('line index', () => {
  it('offset to position and back gives the offset; from within a line end, the end of the line', () => {
    assertLaw(
      1000,
      fc.property(texts, (text) => {
        const index = new LineIndex(text);
        for (let offset = 0; offset <= text.length; offset++) {
          const position = index.positionAt(offset);
          const isInLineEnd = text[offset - 1] === '\r' && text[offset] === '\n';
          expect(index.offsetAt(position)).toBe(isInLineEnd ? offset - 1 : offset);
          expect(position.character).toBeLessThanOrEqual(linesOf(text)[position.line]!.length);
        }
      }),
    );
  });

  it('a position past the end of its line stands at the end of the line', () => {
    assertLaw(
      1000,
      fc.property(texts, fc.nat(30), (text, past) => {
        const index = new LineIndex(text);
        for (const [line, content] of linesOf(text).entries()) {
          const end = index.offsetAt({ line, character: content.length });
          expect(text.slice(index.offsetAt({ line, character: 0 }), end)).toBe(content);
          expect(index.lineText(line)).toBe(content);
          expect(index.offsetAt({ line, character: content.length + past })).toBe(end);
        }
        expect(index.offsetAt({ line: linesOf(text).length + past, character: past })).toBe(text.length);
      }),
    );
  });
});
