import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { documentLinksOf } from '../../server/src/core/features/document-links.ts';
import { pathInBase } from '../../server/src/core/model/path-in-base.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { spoiltYaml } from '../harness/arbitrary-yaml.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { readFixtures } from '../harness/fixtures.ts';

const arbitraryText = fc.oneof(fc.constantFrom(...readFixtures().map(({ text }) => text)), spoiltYaml);
const part = fc.constantFrom('..', '.', '', 'a', 'b.json', '...', 'c d', '..a');
const path = fc.array(part, { minLength: 1, maxLength: 6 }).map((parts) => parts.join('/'));

describe('document links', () => {
  it('a link to a file stays inside the base', () => {
    assertLaw(
      500,
      fc.property(fc.constantFrom('a.yaml', 'x/a.yaml', 'x/y/a.yaml'), path, (from, written) => {
        const found = pathInBase(from, written);
        // Held against the rules of web addresses, from a folder as deep as no path here climbs.
        const deep = Array.from({ length: 9 }, (_, level) => `up${level}`).join('/');
        const url = new URL(written.replaceAll(/\/+/g, '/'), `https://base.example/${deep}/root/${from}`).pathname;
        const prefix = `/${deep}/root/`;
        const isInside = url.startsWith(prefix) && !url.endsWith('/') && written !== '' && !written.startsWith('/');
        expect(found).toBe(isInside ? decodeURIComponent(url.slice(prefix.length)) : undefined);
      }),
    );
  });

  it('no text, whole or damaged, makes it throw, and links lie within the text without overlapping', () => {
    assertLaw(
      400,
      fc.property(arbitraryText, fc.nat(), (text, cut) => {
        const whole = text.slice(0, cut % (text.length + 1));
        let last = 0;
        for (const { start, end } of documentLinksOf({ path: 'a.yaml', tape: readText(whole).tape })) {
          expect(start).toBeGreaterThanOrEqual(last);
          expect(end).toBeGreaterThanOrEqual(start);
          last = end;
        }
        expect(last).toBeLessThanOrEqual(whole.length);
      }),
    );
  });
});
