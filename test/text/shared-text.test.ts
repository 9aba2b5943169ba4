import { describe, expect, it } from 'vitest';
import { sharedPart } from '../../server/src/core/text/shared-text.ts';

describe('sharedPart', () => {
  it('gives the part, whatever was asked for before', () => {
    const texts = Array.from({ length: 30_000 }, (_, position) => `${position % 7}-${position % 20_011}`);
    for (const text of texts) {
      expect(sharedPart(`key: ${text} # note`, 5, 5 + text.length)).toBe(text);
    }
  });

  it('tells apart texts of one hash, and texts of which one begins the other', () => {
    // 31 × 'A' + 'a' = 31 × 'B' + 'B'
    for (const text of ['Aa', 'BB', 'Aa', 'AaAa', 'BBBB', 'AaBB', 'Aa', 'A', '']) {
      expect(sharedPart(`${text}!`, 0, text.length)).toBe(text);
    }
  });

  it('gives long texts and letters of every script unchanged', () => {
    for (const text of ['x'.repeat(32), 'x'.repeat(33), 'ü’😀'.repeat(4), 'ü’😀'.repeat(40), '\ud800']) {
      expect(sharedPart(`<${text}>`, 1, 1 + text.length)).toBe(text);
    }
  });
});
