import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withShortQuotes } from '../../server/src/core/text/with-short-quotes.ts';
import { assertLaw } from '../harness/assert-law.ts';

const value = fc.stringMatching(/^[^`]{1,50}$/u);

describe('sentences with short quotes', () => {
  it('sentences as they are written stay as they are', () => {
    assertLaw(
      300,
      fc.property(fc.array(value, { maxLength: 20 }), (values) => {
        const sentence = `Board ${values.map((one) => `\`${one}\``).join(', ')} is not known.`;
        expect(withShortQuotes(sentence)).toBe(sentence);
      }),
    );
  });

  it('however long the values a sentence quotes, it stays short and its own words stand', () => {
    assertLaw(
      300,
      fc.property(value, fc.nat(100_000), fc.constantFrom('x', '\u{1f50c}'), (start, length, unit) => {
        const short = withShortQuotes(`Value \`${start}${unit.repeat(length)}\` of \`wwn\` is not known.`);
        expect(short.length).toBeLessThan(500);
        expect(short).toMatch(/^Value `.*` of `wwn` is not known\.$/su);
        expect(/\p{Cs}/u.test(short)).toBe(false);
      }),
    );
  });
});
