import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findCursor } from '../../server/src/core/features/cursor.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { findEntry } from '../../server/src/core/syntax/tape.ts';
import { laidOutYaml } from '../harness/arbitrary-laid-out-yaml.ts';
import { spoiltYaml } from '../harness/arbitrary-yaml.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { readFixtures } from '../harness/fixtures.ts';

const arbitraryText = fc.oneof(fc.constantFrom(...readFixtures().map(({ text }) => text)), laidOutYaml, spoiltYaml);

describe('cursor', () => {
  it('the cursor of a key or value leads back to it by its path', () => {
    assertLaw(
      300,
      fc.property(arbitraryText, fc.double({ min: 0, max: 1, noNaN: true }), (text, share) => {
        const { tape } = readText(text);
        const cursor = findCursor({ path: 'a.yaml', tape }, Math.round(share * text.length));
        if (!cursor) return;
        const root = tape.documents[cursor.document]?.root ?? -1;
        const { entry, depth } = findEntry(tape, root, cursor.path);
        // Of keys given twice the path means the first.
        const isTwice = depth < cursor.path.length || tape.entries[entry] !== cursor.entry;
        if (isTwice) expect(isUnclear(text, cursor.path)).toBe(true);
        else {
          const { keyStart, keyEnd, start, end } = cursor.entry;
          expect([cursor.start, cursor.end]).toEqual(cursor.side === 'key' ? [keyStart, keyEnd] : [start, end]);
        }
      }),
    );
  });

  it('no offset of any text, whole or cut off, makes it throw', () => {
    assertLaw(
      300,
      fc.property(arbitraryText, fc.nat(), fc.nat(), (text, cut, at) => {
        const whole = text.slice(0, cut % (text.length + 1));
        findCursor({ path: 'a.yaml', tape: readText(whole).tape }, at % (whole.length + 1));
      }),
    );
  });
});

/** Whether some key of the path is typed twice, as far as the text tells. */
function isUnclear(text: string, path: readonly (string | number)[]): boolean {
  return path.some((step) => typeof step === 'string' && text.split(step).length > 2);
}
