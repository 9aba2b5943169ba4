import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mergeTexts } from '../../server/src/core/text/merge-texts.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';

/** Texts of few different lines, so that many are alike, with or without an end of the last one. */
const arbitraryText = fc
  .tuple(fc.array(fc.constantFrom('', 'a', 'b', 'c: d', '---'), { maxLength: 12 }), fc.boolean())
  .map(([lines, isEnded]) => lines.join('\n') + (isEnded ? '\n' : ''));

/** What becomes of a line: it is kept, changed, left out, or gets a line behind it; and by which side. */
const arbitraryFate = fc.record({
  side: fc.constantFrom('a', 'b'),
  what: fc.constantFrom('kept', 'changed', 'gone', 'more'),
});
type Fate = typeof arbitraryFate extends fc.Arbitrary<infer Value> ? Value : never;

/** Lines that all differ, after the changes of some sides. */
function written(fates: readonly Fate[], sides: string): string {
  return fates
    .flatMap(({ side, what }, line) => {
      if (!sides.includes(side) || what === 'kept') return [`line ${line}`];
      if (what === 'gone') return [];
      return what === 'changed' ? [`changed ${line}`] : [`line ${line}`, `more ${line}`];
    })
    .map((line) => `${line}\n`)
    .join('');
}

/** Whether no changed line lies next to one that the other side changed. */
function areApart(fates: readonly Fate[]): boolean {
  const sideAt = (line: number): string | undefined => (fates[line]?.what === 'kept' ? undefined : fates[line]?.side);
  return fates.every((_, line) => {
    const sides = new Set([sideAt(line - 1), sideAt(line), sideAt(line + 1)].filter(Boolean));
    return sides.size < 2;
  });
}

describe('merging texts', () => {
  it('a text that one side alone changed is what that side made of it', () => {
    assertLaw(
      500,
      fc.property(arbitraryText, arbitraryText, (old, now) => {
        expect([mergeTexts(old, now, old), mergeTexts(old, old, now)]).toEqual([now, now]);
      }),
    );
  });

  it('what both sides changed alike is changed once', () => {
    assertLaw(
      500,
      fc.property(arbitraryText, arbitraryText, (old, now) => {
        expect(mergeTexts(old, now, now)).toBe(now);
        // Where one side goes on, further down.
        const apart = '\n1\n2\n3\n';
        expect(mergeTexts(old + apart, now + apart, `${now}${apart}end`)).toBe(`${now}${apart}end`);
      }),
    );
  });

  it('exchanging the sides changes nothing', () => {
    assertLaw(
      1000,
      fc.property(arbitraryText, arbitraryText, arbitraryText, (old, a, b) => {
        expect(mergeTexts(old, a, b)).toBe(mergeTexts(old, b, a));
      }),
    );
  });

  it('changes of lines that are apart are all there', () => {
    let merged = 0;
    assertLaw(
      1000,
      fc.property(fc.array(arbitraryFate, { maxLength: 14 }), (fates) => {
        fc.pre(areApart(fates));
        merged++;
        expect(mergeTexts(written(fates, ''), written(fates, 'a'), written(fates, 'b'))).toBe(written(fates, 'ab'));
      }),
    );
    expectOften(merged, 500);
  });
});
