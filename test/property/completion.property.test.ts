import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { completionsAt } from '../../server/src/core/features/completion.ts';
import { completionContext } from '../../server/src/core/features/completion-context.ts';
import { findCursor } from '../../server/src/core/features/cursor.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { childrenOf } from '../../server/src/core/syntax/tape.ts';
import { arbitraryDamage, damageText } from '../harness/arbitrary-damage.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { readFixtures } from '../harness/fixtures.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

const fixtures = readFixtures();

const demo = fixtures.filter(({ name }) => name.startsWith('knowledge/'));

const snapshot = snapshotOf(Object.fromEntries(demo.map(({ path, text }) => [path, text])));

/** A file of the demo base as text, open at an offset, and what is offered there. */
function offeredIn(path: string, text: string, offset: number, hasSnippets = false) {
  const file = { path, tape: readText(text).tape, snapshot, isIndexed: true };
  const completions = completionsAt(file, offset, { hasSnippets });
  return { context: completionContext({ path, text }, offset), completions };
}

const arbitraryFile = fc.constantFrom(...demo);

describe('completion', () => {
  it('no offset of any text, whole, cut off or damaged, makes it throw', () => {
    assertLaw(
      1000,
      fc.property(
        fc.constantFrom(...fixtures),
        arbitraryDamage,
        fc.nat(),
        fc.boolean(),
        (file, damage, at, hasSnippets) => {
          const text = damageText(file.text, damage);
          const offset = at % (text.length + 1);
          offeredIn(file.path, text, offset, hasSnippets);
          offeredIn(file.path, text.slice(0, offset), offset, hasSnippets);
        },
      ),
    );
  });

  it('a value that is chosen is read as that value, and nothing else changes', () => {
    let seen = 0;
    assertLaw(
      1500,
      fc.property(arbitraryFile, fc.nat(), fc.nat(), ({ path, text }, at, choice) => {
        const { tape } = readText(text);
        const scalars = tape.entries.filter(({ kind }) => kind === 'plain' || kind === 'quoted');
        const scalar = scalars[at % scalars.length]!;
        const { context, completions } = offeredIn(path, text, scalar.kind === 'quoted' ? scalar.end - 1 : scalar.end);
        const item = completions?.items[choice % completions.items.length];
        if (!completions || !item) return;
        const after = text.slice(0, completions.start) + item.newText + text.slice(completions.end);
        const reading = readText(after);
        expect(reading.faults).toEqual([]);
        const cursor = findCursor({ path, tape: reading.tape }, completions.start + 1);
        expect(cursor).toMatchObject({ side: 'value', path: context!.path });
        expect(cursor!.entry.text).toBe(item.label);
        expect(reading.tape.entries.length).toBe(tape.entries.length);
        seen++;
      }),
    );
    expectOften(seen, 500);
  });

  it('a key that is chosen at the end of a text is read as a new key of that map', () => {
    let seen = 0;
    assertLaw(
      1500,
      fc.property(arbitraryFile, fc.nat(), fc.nat(), ({ path, text }, at, choice) => {
        const cut = text.slice(0, at % (text.length + 1));
        const { context, completions } = offeredIn(path, cut, cut.length);
        if (context?.side !== 'key' || context.isInFlow || !completions) return;
        const keys = completions.items.filter(({ what }) => what === 'key');
        const { label, newText } = keys[choice % keys.length]!;
        const { tape } = readText(cut.slice(0, completions.start) + newText);
        const key = tape.entries.findLast(({ key }) => key !== undefined)!;
        const cursor = findCursor({ path, tape }, key.keyStart);
        expect(cursor).toMatchObject({ side: 'key', path: [...context.path, label] });
        const map = tape.entries.findIndex((_, index) =>
          [...childrenOf(tape, index)].some((child) => tape.entries[child] === key),
        );
        const names = [...childrenOf(tape, map)].map((child) => tape.entries[child]!.key);
        expect(new Set(names).size).toBe(names.length);
        seen++;
      }),
    );
    expectOften(seen, 200);
  });
});
