import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Formula, toFormula } from '../../server/src/core/conditions/formula.ts';
import type { Truth } from '../../server/src/core/conditions/truth.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { familyMeans } from '../../server/src/core/odds/family-means.ts';
import { familyRate } from '../../server/src/core/odds/family-rates.ts';
import { arbitraryShelf } from '../harness/arbitrary-shelf.ts';
import { arbitraryRecordWalk, editedPaths } from '../harness/arbitrary-walk.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { fileOf, snapshotOf, snapshotOfBase } from '../harness/snapshot-of.ts';

const formulas = [
  toFormula({ same: ['rev'] }, []),
  toFormula({ revision: 'drop_in' }, []),
  toFormula({ any: [{ same: ['firmware'] }, { different: ['controller'] }] }, []),
];

const letter = fc.constantFrom('y', 'n', '?');
const answers = fc.tuple(letter, letter, letter).map((letters) => letters.join(''));
const romState = fc.constantFrom<Truth>(true, false, undefined);

/** That every decided answer is the wanted one. */
function conditionOf(wanted: string): Formula {
  const parts = formulas.flatMap((formula, n): readonly Formula[] => {
    if (wanted[n] === '?') return [];
    return [wanted[n] === 'y' ? formula : { op: 'not', part: formula }];
  });
  return { op: 'all', parts };
}

describe('pooled means of families', () => {
  it('the mean is that of the row of all families of which the wanted condition is given', () => {
    const seen = new Set<number | undefined>();
    assertLaw(
      40,
      fc.property(arbitraryShelf, romState, fc.array(answers, { maxLength: 4 }), (base, romTravels, list) => {
        const snapshot = snapshotOfBase(base);
        for (const family of [...snapshot.records('family').map(({ id }) => id), 'unrecorded']) {
          const meanOf = familyMeans({ family, romTravels, formulas }, snapshot);
          for (const wanted of list) {
            const row = familyRate({ family, romTravels, given: conditionOf(wanted) }, snapshot);
            seen.add(meanOf(wanted));
            if (row) expect(meanOf(wanted)).toBeCloseTo(row.pooled.mean, 12);
            else expect(meanOf(wanted)).toBeUndefined();
          }
        }
      }),
    );
    expectOften(seen.size, 5);
  });

  it('the means after edits are those of a fresh base', () => {
    const meansIn = (snapshot: Snapshot): readonly (number | undefined)[] =>
      snapshot.records('family').flatMap(({ id: family }) => {
        const meanOf = familyMeans({ family, romTravels: undefined, formulas }, snapshot);
        return ['???', 'y??', 'nn?', 'y?y'].map(meanOf);
      });
    assertLaw(
      25,
      fc.property(arbitraryRecordWalk({ minLength: 1, maxLength: 6 }), ([first, ...rest]) => {
        let snapshot = snapshotOf(first);
        let before = first;
        meansIn(snapshot);
        for (const texts of rest) {
          const changes = editedPaths(before, texts).map((path) => ({ path, file: fileOf(path, texts[path]!) }));
          snapshot = snapshot.with(changes);
          expect(meansIn(snapshot)).toEqual(meansIn(snapshotOf(texts)));
          before = texts;
        }
      }),
    );
  });
});
