import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { blockStrip } from '../../server/src/core/reports/block-strip.ts';
import type { Block } from '../../server/src/core/rom-images/image-blocks.ts';
import { assertLaw } from '../harness/assert-law.ts';

const arbitraryBlock: fc.Arbitrary<Block> = fc.oneof(
  fc.record({ entropy: fc.constant(0), fill: fc.constantFrom('ff' as const, '00' as const) }),
  fc.record({ entropy: fc.double({ min: 0, max: 8, noNaN: true }), fill: fc.constant(undefined) }),
);

/** Strips of up to 16,384 blocks, the 64 MiB of the largest image that is read. */
const arbitraryStrip = fc
  .tuple(
    fc.array(arbitraryBlock, { minLength: 1, maxLength: 300 }),
    fc.integer({ min: 1, max: 55 }),
    fc.array(fc.nat(), { maxLength: 5 }),
  )
  .map(([some, times, places]) => {
    const blocks = Array.from({ length: times }, () => some).flat();
    return { name: 'Read 1', blocks, differing: new Set(places.map((place) => place % blocks.length)) };
  });

/** The lines of values, each with the line of marks below it. */
function rowsOf(lines: readonly string[]): readonly { readonly values: string; readonly marks: string }[] {
  return lines.flatMap((line, at) => {
    const [, values] = /^0x[0-9A-F]+ +(.*)$/.exec(line) ?? [];
    if (values === undefined) return [];
    const next = lines[at + 1] ?? '';
    return [{ values, marks: /^[ ^]+$/.test(next) ? next.slice(line.length - values.length) : '' }];
  });
}

describe('strips', () => {
  it('a strip has a mark for every block, on at most four lines of 80 columns', () => {
    assertLaw(
      200,
      fc.property(arbitraryStrip, (strip) => {
        const { lines, drawing } = blockStrip(strip);
        const rows = rowsOf(lines);
        const cells = rows.map(({ values }) => values).join('').length;
        const perCell = 2 ** Math.ceil(Math.log2(Math.max(1, strip.blocks.length / 256)));
        expect(cells).toBe(Math.ceil(strip.blocks.length / perCell));
        expect(rows.length).toBeLessThanOrEqual(4);
        expect(lines.filter((line) => line.length > 80)).toEqual([]);
        for (const mark of drawing.marks) {
          if (mark.shape !== 'bar') continue;
          expect(mark.x + mark.width).toBeLessThanOrEqual(drawing.width);
          expect(mark.y + mark.height).toBeLessThanOrEqual(drawing.height);
          expect(mark.y).toBeGreaterThanOrEqual(0);
        }
      }),
    );
  });

  it('a block that differs is marked, and no part without one is', () => {
    assertLaw(
      200,
      fc.property(arbitraryStrip, (strip) => {
        const { lines, drawing } = blockStrip(strip);
        const rows = rowsOf(lines);
        const cells = rows.map(({ values }) => values).join('').length;
        const perCell = 2 ** Math.ceil(Math.log2(strip.blocks.length / cells));
        const wanted = [...new Set([...strip.differing].map((block) => Math.floor(block / perCell)))].sort(
          (a, b) => a - b,
        );
        const marked = rows.flatMap(({ marks }, row) =>
          [...marks].flatMap((mark, at) => (mark === '^' ? row * 64 + at : [])),
        );
        expect(marked).toEqual(wanted);
        expect(drawing.marks.filter((mark) => mark.shape === 'bar' && mark.tone === 'alarm')).toHaveLength(
          wanted.length,
        );
      }),
    );
  });
});
