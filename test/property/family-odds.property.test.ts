import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { type FamilyOdds, familyOdds } from '../../server/src/core/odds/family-odds.ts';
import { allEvidence } from '../../server/src/core/verdicts/evidence.ts';
import { arbitraryBase } from '../harness/arbitrary-base.ts';
import { arbitraryRecordWalk, editedPaths } from '../harness/arbitrary-walk.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { fileOf, snapshotOf, snapshotOfBase } from '../harness/snapshot-of.ts';

function allOdds(snapshot: Snapshot): FamilyOdds[] {
  return snapshot.records('family').map(({ id }) => familyOdds(id, snapshot));
}

describe('odds of a family', () => {
  it('every outcome of a family is in one row, worked without every control, or is inconclusive', () => {
    assertLaw(
      200,
      fc.property(arbitraryBase, (base) => {
        const snapshot = snapshotOfBase(base);
        for (const { id } of snapshot.records('family')) {
          const { rows, uncontrolled } = familyOdds(id, snapshot);
          const own = allEvidence(snapshot).filter(({ swap }) => swap?.patient.drive.data.family === id);
          const counted = rows.reduce((sum, { outcomes }) => sum + outcomes, uncontrolled.worked + uncontrolled.open);
          expect(counted).toBe(own.length);
          expect(new Set(rows.map(({ romTravels }) => romTravels)).size).toBe(rows.length);
          for (const { count, exact } of rows) {
            const rate = count.votes / count.pairs;
            expect(exact[0] <= rate && rate <= exact[1]).toBe(true);
          }
        }
      }),
    );
  });

  it('the odds after edits are those of a fresh base', () => {
    assertLaw(
      40,
      fc.property(arbitraryRecordWalk({ minLength: 1, maxLength: 6 }), ([first, ...rest]) => {
        let snapshot = snapshotOf(first);
        let before = first;
        allOdds(snapshot);
        for (const texts of rest) {
          const changes = editedPaths(before, texts).map((path) => ({ path, file: fileOf(path, texts[path]!) }));
          snapshot = snapshot.with(changes);
          expect(allOdds(snapshot)).toEqual(allOdds(snapshotOf(texts)));
          before = texts;
        }
      }),
    );
  });
});
