import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ComparableKey, comparableKeys } from '../../schemas/gen/key-table.ts';
import { evaluateAtom } from '../../server/src/core/conditions/evaluate.ts';
import { romTravels } from '../../server/src/core/conditions/rom-travels.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { splitPairs } from '../../server/src/core/odds/split-pairs.ts';
import { allEvidence, type Evidence } from '../../server/src/core/verdicts/evidence.ts';
import { familyOf } from '../../server/src/core/verdicts/evidence-by-family.ts';
import { pairName } from '../../server/src/core/verdicts/pair-name.ts';
import { arbitraryBase, type PlainBase } from '../harness/arbitrary-base.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { snapshotOfBase } from '../harness/snapshot-of.ts';

/** Bases in which every other outcome has all its controls, and no host is asked for anything. */
const controlledBase = arbitraryBase.map(
  (base): PlainBase => ({
    ...base,
    family: base.family.map(({ host_needs: _, ...family }) => family),
    outcome: base.outcome.map((one, position) =>
      position % 2 === 0 ? { ...one, controls: { swapped_back: 'both_work' } } : one,
    ),
  }),
);

/** Families of a base with the evidence of their outcomes, and each comparable key. */
function questions(snapshot: Snapshot): readonly (readonly [string, readonly Evidence[], ComparableKey])[] {
  const all = allEvidence(snapshot);
  return snapshot.records('family').flatMap(({ id }) => {
    const evidence = all.filter((one) => familyOf(one) === id);
    return comparableKeys.map((key) => [id, evidence, key] as const);
  });
}

function pairsIn(evidence: readonly Evidence[]): number {
  return new Set(evidence.map(({ swap }) => pairName(swap!.patient.drive.id, swap!.donor.drive.id))).size;
}

describe('split pairs', () => {
  it('only eligible outcomes are counted, each in at most one group', () => {
    let seen = 0;
    assertLaw(
      300,
      fc.property(controlledBase, (base) => {
        const snapshot = snapshotOfBase(base);
        for (const [family, evidence, key] of questions(snapshot)) {
          const eligible = evidence.filter(({ verdicts }) => verdicts[snapshot.config.worksAt].isEligible);
          const groups = splitPairs(family, key, snapshot);
          for (const { romTravels: travels, isSame, pairs, votes } of groups) {
            const own = eligible.filter(
              ({ swap }) => romTravels(swap!) === travels && evaluateAtom({ test: 'same', key }, swap!) === isSame,
            );
            expect(pairs).toBe(pairsIn(own));
            const works = own.some(({ verdicts }) => verdicts[snapshot.config.worksAt].result === 'works');
            expect(votes > 0).toBe(works);
            seen++;
          }
          expect(new Set(groups.map((group) => `${group.romTravels} ${group.isSame}`)).size).toBe(groups.length);
        }
      }),
    );
    expectOften(seen, 30);
  });

  it('what is not known of a swap puts it in no group', () => {
    assertLaw(
      300,
      fc.property(controlledBase, (base) => {
        const snapshot = snapshotOfBase(base);
        for (const [family, evidence, key] of questions(snapshot)) {
          const known = evidence.filter(({ swap, verdicts }) => {
            if (!swap || !verdicts[snapshot.config.worksAt].isEligible) return false;
            return romTravels(swap) !== undefined && evaluateAtom({ test: 'same', key }, swap) !== undefined;
          });
          expect(splitPairs(family, key, snapshot).length > 0).toBe(known.length > 0);
        }
      }),
    );
  });
});
