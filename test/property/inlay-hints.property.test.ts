import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inlayHints } from '../../server/src/core/features/inlay-hints.ts';
import type { OpenFile } from '../../server/src/core/features/open-file.ts';
import { foldText } from '../../server/src/core/text/fold.ts';
import { arbitraryDamage, damageText } from '../harness/arbitrary-damage.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { openEach } from '../harness/open-at.ts';

const all = { verdicts: true, decoded: true };

function whole({ tape }: OpenFile): { readonly start: number; readonly end: number } {
  return { start: 0, end: tape.text.length };
}

/** A stretch of a file chosen by two shares of its length, in thousandths. */
function stretch({ tape }: OpenFile, a: number, b: number): { readonly start: number; readonly end: number } {
  const [start, end] = [a, b].map((share) => Math.floor((tape.text.length * share) / 1000)).sort((x, y) => x - y);
  return { start: start!, end: end! };
}

const share = fc.integer({ min: 0, max: 1000 });

describe('inlay hints', () => {
  it('hints stand inside the asked span, at the end of a value, in the order of the text', () => {
    let seen = 0;
    assertLaw(
      150,
      fc.property(arbitraryFaultyFiles, share, share, (files, a, b) => {
        for (const file of openEach(files)) {
          const { start, end } = stretch(file, a, b);
          const offsets = inlayHints(file, { start, end }, all).map(({ offset }) => offset);
          expect(offsets).toEqual([...offsets].sort((x, y) => x - y));
          const ends = file.tape.entries.map((entry) => file.tape.text.slice(0, entry.end).trimEnd().length);
          for (const offset of offsets) {
            expect(start <= offset && offset <= end).toBe(true);
            expect(ends).toContain(offset);
          }
          seen += offsets.length;
        }
      }),
    );
    expectOften(seen, 50);
  });

  it('the hints of a span are those of the whole file that stand in it', () => {
    assertLaw(
      100,
      fc.property(arbitraryFaultyFiles, share, share, (files, a, b) => {
        for (const file of openEach(files)) {
          const span = stretch(file, a, b);
          const inside = inlayHints(file, whole(file), all).filter(
            ({ offset }) => span.start <= offset && offset <= span.end,
          );
          expect(inlayHints(file, span, all)).toEqual(inside);
        }
      }),
    );
  });

  it('a hint never repeats a value of its record', () => {
    assertLaw(
      150,
      fc.property(arbitraryFaultyFiles, (files) => {
        for (const file of openEach(files)) {
          const { entries, documents } = file.tape;
          for (const { offset, text } of inlayHints(file, whole(file), all)) {
            const { root } = documents.find(
              ({ root: at }) => entries[at]!.start <= offset && offset <= entries[at]!.end,
            )!;
            const values = entries.slice(root, entries[root]!.skip).map((entry) => foldText(entry.text));
            expect(values).not.toContain(foldText(text));
          }
        }
      }),
    );
  });

  it('no text, whole, cut off or damaged, makes it throw', () => {
    assertLaw(
      300,
      fc.property(arbitraryFaultyFiles, arbitraryDamage, fc.nat(), (files, damage, cut) => {
        const damaged = Object.entries(files).map(([path, text]) => [path, damageText(text, damage)] as const);
        const cutOff = damaged.map(([path, text]) => [path, text.slice(0, cut % (text.length + 1))]);
        for (const texts of [damaged, cutOff]) {
          for (const file of openEach(Object.fromEntries(texts))) inlayHints(file, whole(file), all);
        }
      }),
    );
  });

  it('nothing is said before the base is indexed, and nothing that is not wanted', () => {
    assertLaw(
      60,
      fc.property(arbitraryFaultyFiles, (files) => {
        for (const file of openEach(files)) {
          const hints = inlayHints(file, whole(file), all);
          const verdicts = inlayHints(file, whole(file), { verdicts: true, decoded: false });
          const decoded = inlayHints(file, whole(file), { verdicts: false, decoded: true });
          expect(inlayHints({ ...file, isIndexed: false }, whole(file), all)).toEqual([]);
          expect(inlayHints(file, whole(file), { verdicts: false, decoded: false })).toEqual([]);
          expect(new Set([...verdicts, ...decoded])).toEqual(new Set(hints));
          expect(verdicts.length + decoded.length).toBe(hints.length);
        }
      }),
    );
  });
});
