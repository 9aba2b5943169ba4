import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { memberKinds, membersApart, membersOf } from '../../server/src/core/features/family-members.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import type { AnyRecord } from '../../server/src/core/model/record.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

/** Whether a record belongs to a family, asked without looking anything up by references. */
function belongs({ kind, data }: AnyRecord, family: string, snapshot: Snapshot): boolean {
  switch (kind) {
    case 'board':
      return (data.families ?? []).includes(family);
    case 'drive':
      return data.family === family;
    case 'outcome':
      return snapshot.records('drive').some((drive) => drive.id === data.patient && drive.data.family === family);
    case 'rule': {
      const { families = [], makers = [] } = data.applies_to ?? {};
      const maker = snapshot.find('family', family)?.data.maker ?? '';
      return families.length > 0 ? families.includes(family) : makers.includes(maker);
    }
    default:
      return false;
  }
}

describe('members of families', () => {
  it('the members of a family are the records that belong to it, each once and by id', () => {
    let seen = 0;
    assertLaw(
      200,
      fc.property(arbitraryFaultyFiles, (files) => {
        const snapshot = snapshotOf(files);
        for (const family of snapshot.records('family')) {
          for (const kind of memberKinds) {
            const all = snapshot.records(kind) as readonly AnyRecord[];
            const members = membersOf(kind, family, snapshot);
            expect(members).toEqual(all.filter((record) => belongs(record, family.id, snapshot)));
            seen += members.length;
          }
        }
      }),
    );
    expectOften(seen, 1000);
  });

  it('what is apart is what belongs to no family', () => {
    let seen = 0;
    assertLaw(
      200,
      fc.property(arbitraryFaultyFiles, (files) => {
        const snapshot = snapshotOf(files);
        const { ruleForAll, ...apart } = membersApart(snapshot);
        for (const kind of memberKinds) {
          const all = snapshot.records(kind) as readonly AnyRecord[];
          const left = all.filter((one) => !snapshot.records('family').some(({ id }) => belongs(one, id, snapshot)));
          const found = kind === 'rule' ? [...apart.rule, ...ruleForAll] : apart[kind];
          expect(new Set(found)).toEqual(new Set(left));
          expect(found).toHaveLength(left.length);
          seen += found.length;
        }
        for (const { data } of ruleForAll)
          expect(data).not.toMatchObject({ applies_to: { families: [expect.anything()] } });
      }),
    );
    expectOften(seen, 200);
  });
});
