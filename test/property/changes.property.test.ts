import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { changesBetween } from '../../server/src/core/index/changes.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { nameOf } from '../../server/src/core/model/record.ts';
import { arbitraryFaultyFiles } from '../harness/arbitrary-faulty-files.ts';
import { arbitraryFileWalk, editedPaths } from '../harness/arbitrary-walk.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { allRecords } from '../harness/describe-snapshot.ts';
import { fileOf, snapshotOf } from '../harness/snapshot-of.ts';

describe('changes', () => {
  it('a snapshot has no changes from itself', () => {
    assertLaw(
      30,
      fc.property(arbitraryFaultyFiles, (files) => {
        const snapshot = snapshotOf(files);
        const { records, bareIds, isSweeping } = changesBetween(snapshot, snapshot);
        expect({ records, bareIds, isSweeping }).toEqual({ records: [], bareIds: new Set(), isSweeping: false });
      }),
    );
  });

  it('a record is among the changes exactly where the two snapshots find different ones', () => {
    assertLaw(
      60,
      fc.property(arbitraryFileWalk({ minLength: 1, maxLength: 3 }), ([start, ...steps]) => {
        const end = steps.at(-1)!;
        const before = snapshotOf(start);
        const edits = editedPaths(start, end).map((path) => {
          const text = end[path];
          return { path, file: text === undefined ? undefined : fileOf(path, text) };
        });
        const after = before.with(edits);
        for (const [from, to] of [
          [before, after],
          [after, before],
        ] as const) {
          const changed = changesBetween(from, to).records.map(({ kind, id }) => `${kind}/${id}`);
          expect(changed.sort()).toEqual(differing(from, to));
        }
      }),
    );
  });
});

function differing(a: Snapshot, b: Snapshot): string[] {
  const records = [...allRecords(a), ...allRecords(b)];
  const names = records.filter(({ kind, id }) => a.findAny(kind, id) !== b.findAny(kind, id)).map(nameOf);
  return [...new Set(names)].sort();
}
