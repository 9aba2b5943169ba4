import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LineIndex } from '../../server/src/core/text/line-index.ts';
import { type Encoding, TextPositions } from '../../server/src/lsp/text-positions.ts';
import { assertLaw } from '../harness/assert-law.ts';

const pieces = fc.constantFrom('a', 'é', '€', '😀', '\ud83d', '\ude00', ' ', '\u2028', '\n', '\r', '\r\n');
const texts = fc.array(pieces, { maxLength: 20 }).map((found) => found.join(''));
const encodings = fc.constantFrom<Encoding>('utf-8', 'utf-16', 'utf-32');

/** Whether an offset stands between the halves of a character, or between those of a line end. */
function isInside(text: string, offset: number): boolean {
  const isPair = (text.codePointAt(offset - 1) ?? 0) > 0xffff;
  return isPair || (text[offset - 1] === '\r' && text[offset] === '\n');
}

/** How long a line's start is, counted by the platform's own encoders. */
function widthOf(text: string, encoding: Encoding): number {
  if (encoding === 'utf-16') return text.length;
  return encoding === 'utf-8' ? new TextEncoder().encode(text).length : [...text].length;
}

describe('positions of a text', () => {
  it('in every encoding offset to position and back gives the offset, line ends and halves of characters apart', () => {
    assertLaw(
      2000,
      fc.property(texts, encodings, (text, encoding) => {
        const positions = new TextPositions(text, encoding);
        for (let offset = 0; offset <= text.length; offset++) {
          if (isInside(text, offset)) continue;
          const position = positions.positionAt(offset);
          expect(positions.offsetAt(position)).toBe(offset);
          const line =
            text
              .slice(0, offset)
              .split(/\r\n|\r|\n/)
              .at(-1) ?? '';
          expect(position.character).toBe(widthOf(line, encoding));
        }
      }),
    );
  });

  it('in utf-16 positions are those of the line index', () => {
    assertLaw(
      500,
      fc.property(texts, (text) => {
        const positions = new TextPositions(text, 'utf-16');
        const lines = new LineIndex(text);
        for (let offset = 0; offset <= text.length; offset++) {
          expect(positions.positionAt(offset)).toEqual(lines.positionAt(offset));
        }
      }),
    );
  });

  it('a position within a character stands at its start', () => {
    for (const [encoding, character] of [
      ['utf-8', 3],
      ['utf-8', 4],
      ['utf-8', 5],
    ] as const) {
      expect(new TextPositions('é😀b', encoding).offsetAt({ line: 0, character })).toBe(1);
    }
    assertLaw(
      1000,
      fc.property(texts, encodings, fc.nat(30), fc.nat(5), (text, encoding, character, line) => {
        const positions = new TextPositions(text, encoding);
        const offset = positions.offsetAt({ line, character });
        const back = positions.positionAt(offset);
        // Never past what was asked for, and never a whole character before it unless the line ends there.
        expect(back.line).toBeLessThanOrEqual(line);
        if (back.line === line) expect(back.character).toBeLessThanOrEqual(character);
        if (encoding !== 'utf-16') expect((text.codePointAt(offset - 1) ?? 0) > 0xffff).toBe(false);
      }),
    );
  });
});
