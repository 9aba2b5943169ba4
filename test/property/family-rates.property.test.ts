import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toFormula } from '../../server/src/core/conditions/formula.ts';
import { type FamilyRate, familyRate, familyRates } from '../../server/src/core/odds/family-rates.ts';
import { evidenceByFamily } from '../../server/src/core/verdicts/evidence-by-family.ts';
import { arbitraryBase } from '../harness/arbitrary-base.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { snapshotOfBase } from '../harness/snapshot-of.ts';

function outcomesIn({ outcomes, uncontrolled, notKnown }: FamilyRate): number {
  return outcomes + uncontrolled.worked + uncontrolled.open + notKnown;
}

const snapshots = arbitraryBase.map(snapshotOfBase);

describe('rates of families', () => {
  it('the row of both ROM states counts every outcome that its family has, each in one place', () => {
    assertLaw(
      12,
      fc.property(snapshots, (snapshot) => {
        const rows = familyRates(snapshot);
        expect(rows).toHaveLength(3 * snapshot.records('family').length);
        for (const row of rows.filter(({ romTravels }) => romTravels === undefined)) {
          expect(outcomesIn(row)).toBe(evidenceByFamily(snapshot).get(row.family)?.length ?? 0);
          expect(row.notKnown).toBe(0);
          const known = rows.filter(({ family, romTravels }) => family === row.family && romTravels !== undefined);
          expect(known.reduce((sum, one) => sum + one.outcomes, 0)).toBeLessThanOrEqual(row.outcomes);
        }
      }),
    );
  });

  it('given a condition and given its contrary, the outcomes are shared out between them, but for those of which it is not known', () => {
    const condition = { same: ['rev' as const] };
    assertLaw(
      6,
      fc.property(snapshots, (snapshot) => {
        const all = familyRates(snapshot);
        const meeting = familyRates(snapshot, toFormula(condition, []));
        const others = familyRates(snapshot, toFormula({ none: [condition] }, []));
        for (const [position, row] of all.entries()) {
          const [yes, no] = [meeting[position]!, others[position]!];
          expect(yes.notKnown).toBe(no.notKnown);
          expect(outcomesIn(yes) + outcomesIn(no) - yes.notKnown).toBe(outcomesIn(row));
        }
      }),
    );
  });

  it('intervals hold the rate of the pairs, and the pooled mean lies between 0 and 1', () => {
    assertLaw(
      12,
      fc.property(snapshots, (snapshot) => {
        for (const { count, exact, wilson, jeffreys, pooled } of familyRates(snapshot)) {
          expect(pooled.mean > 0 && pooled.mean < 1).toBe(true);
          expect(pooled.interval[0]).toBeLessThan(pooled.interval[1]);
          if (count.pairs === 0) {
            expect([exact, wilson, jeffreys]).toEqual([
              [0, 1],
              [0, 1],
              [0, 1],
            ]);
            continue;
          }
          const rate = count.votes / count.pairs;
          for (const [low, high] of [exact, wilson, jeffreys]) {
            expect(low).toBeLessThanOrEqual(rate + 1e-12);
            expect(high).toBeGreaterThanOrEqual(rate - 1e-12);
          }
        }
      }),
    );
  });

  it('a row alone is that row of all', () => {
    const given = toFormula({ same: ['rev'] }, []);
    assertLaw(
      30,
      fc.property(snapshots, (snapshot) => {
        for (const row of familyRates(snapshot, given)) {
          const { family, romTravels } = row;
          expect(familyRate({ family, romTravels, given }, snapshot)).toEqual(row);
        }
        expect(familyRate({ family: 'nowhere', romTravels: true, given }, snapshot)).toBeUndefined();
      }),
    );
  });
});
