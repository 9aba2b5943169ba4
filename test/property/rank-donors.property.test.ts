import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluate } from '../../server/src/core/conditions/evaluate.ts';
import { toFormula } from '../../server/src/core/conditions/formula.ts';
import { donorCandidates } from '../../server/src/core/donors/donor-candidates.ts';
import { donorGroupsFor } from '../../server/src/core/donors/donor-groups-for.ts';
import { donorGroups, donorVerdict } from '../../server/src/core/donors/donor-verdict.ts';
import { type DonorRanking, rankDonors } from '../../server/src/core/donors/rank-donors.ts';
import { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { familyRates } from '../../server/src/core/odds/family-rates.ts';
import { arbitraryShelf } from '../harness/arbitrary-shelf.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { snapshotOfBase } from '../harness/snapshot-of.ts';

function rankings(snapshot: Snapshot): DonorRanking[] {
  return snapshot.records('drive').flatMap(({ id }) => rankDonors(id, snapshot) ?? []);
}

function described({ donors }: DonorRanking): readonly unknown[] {
  return donors.map(({ swap, verdict: { group, against, promises, undecided, shortOf }, odds, keys }) => ({
    donor: swap.donor.drive.id,
    group,
    rules: [against, promises, undecided, shortOf].map((rules) => rules.map(({ record }) => record.id)),
    odds,
    keys,
  }));
}

describe('rankings of donors', () => {
  it('ranking by patterns of values is ranking one by one', () => {
    const seen = new Set<string>();
    assertLaw(
      30,
      fc.property(arbitraryShelf, (base) => {
        const snapshot = snapshotOfBase(base);
        for (const { rules, donors, patient } of rankings(snapshot)) {
          for (const { swap, verdict, odds } of donors) {
            seen.add(verdict.group);
            expect(verdict).toEqual(donorVerdict(swap, rules));
            const given = toFormula(odds?.given ?? {}, []);
            expect(evaluate(given, swap)).toBe(true);
            const row = familyRates(snapshot, given).find(
              ({ family, romTravels }) => family === patient.family?.id && romTravels === odds?.romTravels,
            );
            if (row) expect(odds?.mean).toBeCloseTo(row.pooled.mean, 9);
            else expect(odds).toBeUndefined();
          }
        }
      }),
    );
    expectOften(seen.size, donorGroups.length - 1);
  });

  it('the order of the records changes nothing', () => {
    assertLaw(
      60,
      fc.property(arbitraryShelf, (base) => {
        const snapshot = snapshotOfBase(base);
        const reversed = Snapshot.of(snapshot.configFile, [...snapshot.files.values()].reverse());
        expect(rankings(reversed).map(described)).toEqual(rankings(snapshot).map(described));
      }),
    );
  });

  it('every candidate stands in one group, in the order of its odds, its matching keys and its id', () => {
    assertLaw(
      60,
      fc.property(arbitraryShelf, (base) => {
        const snapshot = snapshotOfBase(base);
        for (const { patient, plan, rules, donors } of rankings(snapshot)) {
          const ids = donors.map(({ swap }) => swap.donor.drive.id);
          const candidates = donorCandidates(patient, { plan, rules }, snapshot).map(({ id }) => id);
          expect([...ids].sort()).toEqual([...candidates].sort());
          const places = donors.map(({ verdict, odds, keys, swap }): readonly [number, number, number, string] => {
            const mean = odds?.mean ?? 0;
            return [donorGroups.indexOf(verdict.group), -mean, -keys.matching.length, swap.donor.drive.id];
          });
          for (const [n, place] of places.slice(1).entries()) expect(isBefore(places[n]!, place)).toBe(true);
        }
      }),
    );
  });

  it('the groups alone are those of the ranking', () => {
    assertLaw(
      30,
      fc.property(arbitraryShelf, (base) => {
        const snapshot = snapshotOfBase(base);
        for (const { patient, donors } of rankings(snapshot)) {
          const groups = new Map(donors.map(({ swap, verdict }) => [swap.donor.drive.id, verdict.group]));
          expect(donorGroupsFor(patient.drive.id, snapshot)).toEqual(groups);
        }
      }),
    );
  });

  it('nothing is ranked while the next board may die as well', () => {
    const state = fc.constantFrom('ok', 'shorted', 'open', undefined);
    assertLaw(
      60,
      fc.property(arbitraryShelf, state, state, fc.boolean(), (start, windings, lines, isBurnt) => {
        const examined = [
          {
            ...{ on: '2026-03-01', parts_burnt: isBurnt },
            ...(windings && { motor_windings: windings }),
            ...(lines && { head_lines: lines }),
          },
        ] as const;
        const snapshot = snapshotOfBase({ ...start, drive: start.drive.map((drive) => ({ ...drive, examined })) });
        const isShorted = windings === 'shorted' || lines === 'shorted';
        const isRisky = (isBurnt || isShorted) && !(windings === 'ok' && lines === 'ok');
        for (const { donors, state: found, patient, plan, rules } of rankings(snapshot)) {
          expect(found.isMeasuredFirst).toBe(isRisky);
          expect(donors).toHaveLength(isRisky ? 0 : donorCandidates(patient, { plan, rules }, snapshot).length);
        }
      }),
    );
  });
});

type Place = readonly [number, number, number, string];

function isBefore(a: Place, b: Place): boolean {
  const differing = a.findIndex((part, n) => part !== b[n]);
  return differing >= 0 && a[differing]! < b[differing]!;
}
