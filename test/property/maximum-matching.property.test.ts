import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Edge, maximumMatching } from '../../server/src/core/odds/maximum-matching.ts';
import { assertLaw } from '../harness/assert-law.ts';

/** Graphs of up to eight members, some with a member paired with itself or a pair given twice. */
const graphs: fc.Arbitrary<Edge[]> = fc.integer({ min: 2, max: 8 }).chain((members) =>
  fc.array(
    fc.tuple(fc.nat(members - 1), fc.nat(members - 1)).map(([a, b]): Edge => [`d-${a}`, `d-${b}`]),
    {
      maxLength: 14,
    },
  ),
);

/** The most pairs, by trying every choice. */
function mostByTrying([first, ...others]: readonly Edge[], taken: readonly string[] = []): number {
  if (!first) return 0;
  const without = mostByTrying(others, taken);
  const [a, b] = first;
  if (a === b || taken.includes(a) || taken.includes(b)) return without;
  return Math.max(without, 1 + mostByTrying(others, [...taken, a, b]));
}

describe('maximum matching', () => {
  it('the chosen pairs are among the given ones and share no member', () => {
    assertLaw(
      400,
      fc.property(graphs, (edges) => {
        const given = new Set(edges.flatMap(([a, b]) => [`${a} ${b}`, `${b} ${a}`]));
        const chosen = maximumMatching(edges);
        for (const [a, b] of chosen) expect(given.has(`${a} ${b}`)).toBe(true);
        expect(new Set(chosen.flat()).size).toBe(2 * chosen.length);
      }),
    );
  });

  it('no choice has more pairs', () => {
    assertLaw(
      600,
      fc.property(graphs, (edges) => {
        expect(maximumMatching(edges)).toHaveLength(mostByTrying(edges));
      }),
    );
  });

  it('the order of the pairs, and of the two in each, changes no count', () => {
    const shuffled = graphs.chain((edges) =>
      fc.tuple(
        fc.constant(edges),
        fc.shuffledSubarray(edges, { minLength: edges.length, maxLength: edges.length }),
        fc.array(fc.boolean(), { minLength: edges.length, maxLength: edges.length }),
      ),
    );
    assertLaw(
      200,
      fc.property(shuffled, ([edges, again, isTurned]) => {
        const turned = again.map(([a, b], position): Edge => (isTurned[position] ? [b, a] : [a, b]));
        expect(maximumMatching(turned)).toHaveLength(maximumMatching(edges).length);
      }),
    );
  });
});
