import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { completionContext } from '../../server/src/core/features/completion-context.ts';
import { findCursor } from '../../server/src/core/features/cursor.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { arbitraryDamage, damageText } from '../harness/arbitrary-damage.ts';
import { laidOutYaml } from '../harness/arbitrary-laid-out-yaml.ts';
import { spoiltYaml } from '../harness/arbitrary-yaml.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { readFixtures } from '../harness/fixtures.ts';

const fixtures = readFixtures();

const arbitraryFixture = fc.constantFrom(...fixtures.map(({ text }) => text));

const damagedFixture = fc.tuple(arbitraryFixture, arbitraryDamage).map(([text, damage]) => damageText(text, damage));

describe('completion-context', () => {
  it('no offset of any text, whole, cut off or damaged, makes it throw', () => {
    const arbitraryText = fc.oneof(arbitraryFixture, damagedFixture, laidOutYaml, spoiltYaml);
    assertLaw(
      3000,
      fc.property(arbitraryText, fc.nat(), fc.nat(), (whole, cut, at) => {
        const text = whole.slice(0, cut % (whole.length + 1));
        completionContext({ path: 'a.yaml', text }, at % (text.length + 1));
        completionContext({ path: 'a.yaml', text: whole }, at % (whole.length + 1));
      }),
    );
  });

  it('at the end of every key and scalar it gives the path and the side the tape gives', () => {
    let seen = 0;
    for (const { name, path, text } of fixtures) {
      const { tape } = readText(text);
      if (tape.documents.some(({ isBroken }) => isBroken)) continue;
      for (const { keyEnd, kind, end } of tape.entries) {
        const isScalar = kind === 'plain' || kind === 'quoted';
        for (const offset of [...(keyEnd < 0 ? [] : [keyEnd]), ...(isScalar ? [end] : [])]) {
          const cursor = findCursor({ path, tape }, offset)!;
          const context = completionContext({ path, text }, offset);
          const inside = cursor.side === 'key' ? cursor.path.slice(0, -1) : cursor.path;
          const wanted = { document: cursor.document, node: cursor.node, side: cursor.side, path: inside };
          const given = context && {
            document: context.extent.document,
            node: context.node,
            side: context.side,
            path: context.path,
          };
          expect(given, `${name}:${offset} ${JSON.stringify(text.slice(offset - 30, offset))}`).toEqual(wanted);
          seen++;
        }
      }
    }
    expectOften(seen, 10_000);
  });

  it('the text to replace holds the cursor, and what is typed ends there', () => {
    assertLaw(
      3000,
      fc.property(fc.oneof(arbitraryFixture, damagedFixture), fc.nat(), (text, at) => {
        const offset = at % (text.length + 1);
        const context = completionContext({ path: 'a.yaml', text }, offset);
        if (!context) return;
        expect(context.start).toBeLessThanOrEqual(offset);
        expect(context.end).toBeGreaterThanOrEqual(offset);
        expect(context.typed).toBe(text.slice(context.start, offset));
      }),
    );
  });
});
