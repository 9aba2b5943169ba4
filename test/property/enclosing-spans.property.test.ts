import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { enclosingSpans } from '../../server/src/core/features/enclosing-spans.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { laidOutYaml } from '../harness/arbitrary-laid-out-yaml.ts';
import { spoiltYaml } from '../harness/arbitrary-yaml.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { readFixtures } from '../harness/fixtures.ts';

const arbitraryText = fc.oneof(fc.constantFrom(...readFixtures().map(({ text }) => text)), laidOutYaml, spoiltYaml);

/** The spans around an offset of a text. */
const arbitrarySpans = fc.tuple(arbitraryText, fc.nat()).map(([text, at]) => {
  const offset = at % (text.length + 1);
  return { text, offset, spans: enclosingSpans(readText(text).tape, offset) };
});

describe('enclosing spans', () => {
  it('every span lies within the next and is smaller', () => {
    assertLaw(
      500,
      fc.property(arbitrarySpans, ({ spans }) => {
        for (const [position, inner] of spans.slice(0, -1).entries()) {
          const outer = spans[position + 1]!;
          expect(outer.start).toBeLessThanOrEqual(inner.start);
          expect(outer.end).toBeGreaterThanOrEqual(inner.end);
          expect(inner.end - inner.start).toBeLessThan(outer.end - outer.start);
        }
      }),
    );
  });

  it('every span holds the offset', () => {
    assertLaw(
      500,
      fc.property(arbitrarySpans, ({ spans, offset }) => {
        expect(spans.every(({ start, end }) => start <= offset && offset <= end)).toBe(true);
      }),
    );
  });

  it('the last span is the whole text', () => {
    assertLaw(
      500,
      fc.property(arbitrarySpans, ({ spans, text }) => {
        expect(spans.at(-1)).toEqual({ start: 0, end: text.length });
      }),
    );
  });
});
