import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { TextDocument } from '../../server/src/lsp/text-document.ts';
import type { Encoding } from '../../server/src/lsp/text-positions.ts';
import { assertLaw } from '../harness/assert-law.ts';

const pieces = fc.constantFrom('a', 'é', '€', '😀', ': ', '\n', '\r\n', '\r', '- ', '#');
const texts = fc.array(pieces, { maxLength: 12 }).map((found) => found.join(''));
const encodings = fc.constantFrom<Encoding>('utf-8', 'utf-16', 'utf-32');

/** An edit of a stretch of the text as it is then, both ends given as shares of its length. */
const edits = fc.array(
  fc.record({
    from: fc.double({ min: 0, max: 1, noNaN: true }),
    to: fc.double({ min: 0, max: 1, noNaN: true }),
    text: texts,
  }),
  {
    maxLength: 6,
  },
);

/** The nearest offset at or before one that a position can name: not within a character or a line end. */
function nameable(text: string, offset: number): number {
  const isInside = (text.codePointAt(offset - 1) ?? 0) > 0xffff || text.slice(offset - 1, offset + 1) === '\r\n';
  return isInside ? offset - 1 : offset;
}

describe('an open document', () => {
  it('after changes one by one or all at once holds what cutting and pasting gives', () => {
    assertLaw(
      2000,
      fc.property(texts, edits, encodings, (start, changes, encoding) => {
        let text = start;
        let document = new TextDocument('a:/b', 0, start, encoding);
        const sent = changes.map(({ from, to, text: pasted }) => {
          const [first, last] = [from, to]
            .map((share) => nameable(text, Math.round(share * text.length)))
            .sort((a, b) => a - b) as [number, number];
          const range = new TextDocument('a:/b', 0, text, encoding).positions.rangeOf({ start: first, end: last });
          text = text.slice(0, first) + pasted + text.slice(last);
          document = document.with(document.version + 1, [{ range, text: pasted }]);
          return { range, text: pasted };
        });
        expect(document.text).toBe(text);
        expect(document.version).toBe(changes.length);
        expect(new TextDocument('a:/b', 0, start, encoding).with(1, sent).text).toBe(text);
      }),
    );
  });
});
