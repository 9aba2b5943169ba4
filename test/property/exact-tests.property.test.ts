import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fisherExact, type TwoByTwo } from '../../server/src/core/explanations/fisher-exact.ts';
import { adjustReachable, holm } from '../../server/src/core/explanations/many-tests.ts';
import { signTest } from '../../server/src/core/explanations/sign-test.ts';
import { assertLaw } from '../harness/assert-law.ts';

function tables(max: number): fc.Arbitrary<TwoByTwo> {
  const count = fc.nat({ max });
  return fc.record({ withWorked: count, withFailed: count, withoutWorked: count, withoutFailed: count });
}

const chance = fc.double({ min: 0, max: 1, noNaN: true });

/** Every choice of so many of some places. */
function choices(places: number, taken: number): boolean[][] {
  if (places === 0) return taken === 0 ? [[]] : [];
  const without = choices(places - 1, taken).map((rest) => [false, ...rest]);
  return taken === 0 ? without : [...without, ...choices(places - 1, taken - 1).map((rest) => [true, ...rest])];
}

describe('exact tests', () => {
  it('p counts the ways to deal out what came of the pairs', () => {
    assertLaw(
      40,
      fc.property(tables(3), (table) => {
        const { withWorked, withFailed, withoutWorked, withoutFailed } = table;
        const having = withWorked + withFailed;
        const ways = choices(having + withoutWorked + withoutFailed, withWorked + withoutWorked);
        const found = new Map<number, number>();
        for (const way of ways) {
          const worked = way.slice(0, having).filter(Boolean).length;
          found.set(worked, (found.get(worked) ?? 0) + 1);
        }
        const upTo = (most: number): number => [...found.values()].filter((n) => n <= most).reduce((a, b) => a + b, 0);
        const { p, least } = fisherExact(table);
        expect(p).toBeCloseTo(upTo(found.get(withWorked)!) / ways.length, 12);
        expect(least).toBeCloseTo(upTo(Math.min(...found.values())) / ways.length, 12);
      }),
    );
  });

  it('rows, columns or both exchanged keep p', () => {
    assertLaw(
      200,
      fc.property(tables(30), (table) => {
        const rows = {
          ...{ withWorked: table.withoutWorked, withFailed: table.withoutFailed },
          ...{ withoutWorked: table.withWorked, withoutFailed: table.withFailed },
        };
        const columns = {
          ...{ withWorked: table.withFailed, withFailed: table.withWorked },
          ...{ withoutWorked: table.withoutFailed, withoutFailed: table.withoutWorked },
        };
        const { p, least } = fisherExact(table);
        for (const other of [rows, columns]) {
          expect(fisherExact(other).p / p).toBeCloseTo(1, 9);
          expect(fisherExact(other).least / least).toBeCloseTo(1, 9);
        }
        expect(p).toBeGreaterThanOrEqual(least);
      }),
    );
  });

  it('a table that separates has the smallest p of its totals', () => {
    assertLaw(
      100,
      fc.property(fc.nat({ max: 30 }), fc.nat({ max: 30 }), (withWorked, withoutFailed) => {
        const { p, least } = fisherExact({ withWorked, withFailed: 0, withoutWorked: 0, withoutFailed });
        expect(p).toBe(least);
      }),
    );
  });

  it('both ways exchanged keep the p of the sign test', () => {
    assertLaw(
      100,
      fc.property(fc.nat({ max: 40 }), fc.nat({ max: 40 }), (one, other) => {
        expect(signTest(one, other)).toEqual(signTest(other, one));
        expect(signTest(one, other).p).toBeGreaterThanOrEqual(signTest(one, other).least);
      }),
    );
  });

  it('all differing one way has the smallest p of the sign test', () => {
    assertLaw(
      40,
      fc.property(fc.nat({ max: 1200 }), (all) => {
        const { p, least } = signTest(all, 0);
        expect(p).toBe(least);
        expect(p).toBeGreaterThan(0);
      }),
    );
  });

  it('adjusted p keep their order and are never smaller', () => {
    assertLaw(
      200,
      fc.property(fc.array(chance, { maxLength: 12 }), (ps) => {
        const adjusted = holm(ps);
        for (const [n, p] of ps.entries()) {
          expect(adjusted[n]).toBeGreaterThanOrEqual(p);
          for (const [m, other] of ps.entries()) if (p < other) expect(adjusted[n]!).toBeLessThanOrEqual(adjusted[m]!);
        }
      }),
    );
  });

  it('what cannot reach the threshold costs the others nothing', () => {
    const test = fc.tuple(chance, chance).map(([a, b]) => ({ p: Math.max(a, b), least: Math.min(a, b) / 20 }));
    assertLaw(
      200,
      fc.property(fc.array(test, { maxLength: 8 }), fc.nat({ max: 30 }), (tests, more) => {
        const never = Array.from({ length: more }, () => ({ p: 1, least: 0.06 }));
        const adjusted = adjustReachable([...never, ...tests]);
        expect(adjusted.slice(more)).toEqual(adjustReachable(tests));
        expect(adjusted.slice(0, more)).toEqual(never.map(() => undefined));
      }),
    );
  });
});
