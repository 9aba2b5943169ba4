import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type OutlineItem, outlineOf } from '../../server/src/core/features/outline.ts';
import { readText } from '../../server/src/core/syntax/read-text.ts';
import { laidOutYaml } from '../harness/arbitrary-laid-out-yaml.ts';
import { spoiltYaml } from '../harness/arbitrary-yaml.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { readFixtures } from '../harness/fixtures.ts';

const arbitraryText = fc.oneof(fc.constantFrom(...readFixtures().map(({ text }) => text)), laidOutYaml, spoiltYaml);

/** Calls `visit` with the items of every level and the span they stand in. */
function visitLevels(
  items: readonly OutlineItem[],
  span: { readonly start: number; readonly end: number },
  visit: (items: readonly OutlineItem[], span: { readonly start: number; readonly end: number }) => void,
): void {
  visit(items, span);
  for (const item of items) visitLevels(item.children, item, visit);
}

describe('outline', () => {
  it('the name of an item lies within the item, and every item within the one that holds it', () => {
    assertLaw(
      500,
      fc.property(arbitraryText, (text) => {
        visitLevels(outlineOf(readText(text).tape), { start: 0, end: text.length }, (items, span) => {
          for (const { start, nameStart, nameEnd, end } of items) {
            const order = [span.start, start, nameStart, nameEnd, end, span.end];
            expect(order).toEqual([...order].sort((a, b) => a - b));
          }
        });
      }),
    );
  });

  it('items that stand side by side do not overlap', () => {
    assertLaw(
      500,
      fc.property(arbitraryText, (text) => {
        visitLevels(outlineOf(readText(text).tape), { start: 0, end: text.length }, (items) => {
          for (const [position, { end }] of items.slice(0, -1).entries()) {
            expect(items[position + 1]!.start).toBeGreaterThanOrEqual(end);
          }
        });
      }),
    );
  });

  it('no name is blank', () => {
    assertLaw(
      300,
      fc.property(arbitraryText, (text) => {
        visitLevels(outlineOf(readText(text).tape), { start: 0, end: text.length }, (items) => {
          for (const { name } of items) expect(name.trim()).not.toBe('');
        });
      }),
    );
  });
});
