import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findCursor } from '../../server/src/core/features/cursor.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { childrenOf, findEntry, type Tape, type TapeEntry } from '../../server/src/core/syntax/tape.ts';
import { laidOutYaml } from '../harness/arbitrary-laid-out-yaml.ts';
import { spoiltYaml } from '../harness/arbitrary-yaml.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { readFixtures } from '../harness/fixtures.ts';

const arbitraryText = fc.oneof(fc.constantFrom(...readFixtures().map(({ text }) => text)), laidOutYaml, spoiltYaml);

describe('cursor', () => {
  it('the cursor of a key or value leads back to it by its path', () => {
    let seen = 0;
    assertLaw(
      100,
      fc.property(arbitraryText, (text) => {
        const { tape } = readText(text);
        // Of keys given twice a path means the first.
        if (tape.entries.some((_, parent) => hasKeyTwice(tape, parent))) return;
        for (const target of tape.entries) {
          for (const side of ['key', 'value'] as const) {
            const [start, end] = side === 'key' ? [target.keyStart, target.keyEnd] : [target.start, target.end];
            const isSomething = start >= 0 && start < end && (side === 'key' || isScalar(target));
            if (!isSomething || tape.documents.some(({ isBroken }) => isBroken)) continue;
            const cursor = findCursor({ path: 'a.yaml', tape }, start)!;
            expect(cursor).toMatchObject({ side, start, end });
            const { entry, depth } = findEntry(tape, tape.documents[cursor.document]!.root, cursor.path);
            expect(depth).toBe(cursor.path.length);
            expect(tape.entries[entry]).toBe(target);
            seen++;
          }
        }
      }),
    );
    expectOften(seen, 1000);
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

function hasKeyTwice(tape: Tape, parent: number): boolean {
  if (tape.entries[parent]!.kind !== 'map') return false;
  const keys = [...childrenOf(tape, parent)].map((child) => tape.entries[child]!.key);
  return new Set(keys).size < keys.length;
}

function isScalar({ kind }: TapeEntry): boolean {
  return kind === 'plain' || kind === 'quoted' || kind === 'block';
}
