import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Mark } from '../../server/src/core/reports/drawing.ts';
import { forestPlot, type PlotGroup, type PlotRow } from '../../server/src/core/reports/forest-plot.ts';
import { assertLaw } from '../harness/assert-law.ts';

const share = fc.double({ min: 0, max: 1, noNaN: true });

/** Three shares from the lowest to the highest. */
const three = fc.tuple(share, share, share).map((all) => all.sort((a, b) => a - b) as [number, number, number]);

const arbitraryRow: fc.Arbitrary<PlotRow> = fc
  .tuple(fc.string({ maxLength: 40 }), fc.integer({ min: 0, max: 100_000 }), three, three)
  .map(([name, pairs, [low, rate, high], [from, mean, to]]) => ({
    ...{ name, pairs, votes: rate * pairs },
    exact: pairs === 0 ? [0, 1] : [low, high],
    pooled: { mean, interval: [from, to] },
  }));

const arbitraryGroups: fc.Arbitrary<readonly PlotGroup[]> = fc.array(
  fc.record({
    name: fc.option(fc.string({ maxLength: 120 }), { nil: undefined }),
    rows: fc.array(arbitraryRow, { minLength: 1, maxLength: 3 }),
  }),
  { minLength: 1, maxLength: 4 },
);

type Line = Extract<Mark, { shape: 'line' }>;

/** The axis: the only line of the scale that lies flat. */
function axisOf(marks: readonly Mark[]): Line {
  const [axis] = marks.filter(
    (mark): mark is Line => mark.shape === 'line' && mark.tone === 'scale' && mark.from[1] === mark.to[1],
  );
  return axis!;
}

describe('plots of rates', () => {
  it('marks lie within the scale and match the numbers', () => {
    assertLaw(
      80,
      fc.property(arbitraryGroups, (groups) => {
        const { drawing } = forestPlot({ caption: 'Rates', groups });
        const [start, end] = [axisOf(drawing.marks).from[0], axisOf(drawing.marks).to[0]];
        const shareAt = (x: number): number => (x - start) / (end - start);
        const lines = drawing.marks.filter((mark): mark is Line => mark.shape === 'line' && mark.tone === 'value');
        for (const { from, to } of lines) {
          for (const [x, y] of [from, to]) {
            expect(x >= start && x <= end).toBe(true);
            expect(y > 0 && y < drawing.height).toBe(true);
          }
        }
        // What the marks mean stands at the end, with a mark of either kind.
        const squares = drawing.marks.flatMap((mark) => (mark.shape === 'bar' ? mark : [])).slice(0, -1);
        const rows = groups.flatMap((group) => group.rows);
        const counted = rows.filter(({ pairs }) => pairs > 0);
        expect(squares).toHaveLength(counted.length);
        for (const [at, { pairs, votes, exact }] of counted.entries()) {
          const square = squares[at]!;
          const y = square.y + square.height / 2;
          expect(shareAt(square.x + square.width / 2)).toBeCloseTo(votes / pairs, 3);
          const flat = lines.filter(({ from, to }) => from[1] === y && to[1] === y);
          expect(flat.map(({ from, to }) => [shareAt(from[0]), shareAt(to[0])])).toEqual([
            [expect.closeTo(exact[0], 3), expect.closeTo(exact[1], 3)],
          ]);
        }
        const slanted = lines.filter(({ from, to }) => from[1] !== to[1] && Math.abs(from[1] - to[1]) === 4);
        expect(slanted).toHaveLength(4 * (rows.length + 1));
        for (const [at, { pooled }] of rows.entries()) {
          const [low, top, high] = slanted.slice(4 * at, 4 * at + 3).map(({ from }) => shareAt(from[0]));
          expect([low, top, high]).toEqual([
            expect.closeTo(pooled.interval[0], 3),
            expect.closeTo(pooled.mean, 3),
            expect.closeTo(pooled.interval[1], 3),
          ]);
        }
      }),
    );
  });

  it('lines have at most 80 columns and show each number where the scale has it', () => {
    assertLaw(
      80,
      fc.property(arbitraryGroups, (groups) => {
        const { lines } = forestPlot({ caption: 'Rates', groups });
        expect(lines.filter((line) => line.length > 80)).toEqual([]);
        const [scale = ''] = lines;
        const [start, end] = [scale.indexOf('0 %'), scale.indexOf('100 %') + '100 %'.length - 1];
        const columnOf = (one: number): number => start + Math.round(one * 40);
        expect(end - start).toBe(41);
        let at = 1;
        for (const { name, rows } of groups) {
          if (name !== undefined) at++;
          for (const { pairs, votes, exact, pooled } of rows) {
            const [rate = '', expected = ''] = lines.slice(at, at + 2).map((line) => line.padEnd(80));
            at += 2;
            expect(expected[columnOf(pooled.mean)]).toBe('◇');
            expect(expected.trim()).toHaveLength(columnOf(pooled.interval[1]) - columnOf(pooled.interval[0]) + 1);
            if (pairs === 0) {
              expect(rate).toContain('no pair yet');
              continue;
            }
            expect(rate[columnOf(votes / pairs)]).toBe('●');
            const bar = rate.slice(start, start + 41);
            expect(start + bar.search(/\S/)).toBe(columnOf(exact[0]));
            expect(start + bar.trimEnd().length - 1).toBe(columnOf(exact[1]));
          }
        }
      }),
    );
  });
});
