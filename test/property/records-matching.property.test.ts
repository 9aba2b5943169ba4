import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mostMatches, recordsMatching } from '../../server/src/core/features/records-matching.ts';
import { arbitraryBase } from '../harness/arbitrary-base.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { allRecords } from '../harness/describe-snapshot.ts';
import { snapshotOfBase } from '../harness/snapshot-of.ts';

const query = fc.string({ unit: fc.constantFrom('1', '2', '-', 'd', 'e', 'r', 't', 'W', ' '), maxLength: 4 });

describe('records matching', () => {
  it('what is found holds the letters of the query in their order, and all that do are found', () => {
    assertLaw(
      100,
      fc.property(arbitraryBase, query, (plain, typed) => {
        const snapshot = snapshotOfBase(plain);
        const letters = [...typed.replaceAll(' ', '').toLowerCase()];
        const inOrder = new RegExp(letters.join('.*'));
        const expected = [...allRecords(snapshot)].filter(({ id }) => inOrder.test(id));
        expect(expected.length).toBeLessThan(mostMatches);
        const found = recordsMatching(typed, [{ snapshot }]).map(({ kind, id }) => `${kind}/${id}`);
        expect([...found].sort()).toEqual(expected.map(({ kind, id }) => `${kind}/${id}`).sort());
      }),
    );
  });

  it('a record is found first by its own id', () => {
    assertLaw(
      60,
      fc.property(arbitraryBase, (plain) => {
        const snapshot = snapshotOfBase(plain);
        for (const { id } of allRecords(snapshot)) {
          expect(recordsMatching(id, [{ snapshot }])[0]?.id).toBe(id);
        }
      }),
    );
  });
});
