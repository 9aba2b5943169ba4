import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { keysToInspect } from '../../server/src/core/donors/keys-to-inspect.ts';
import { rankDonors } from '../../server/src/core/donors/rank-donors.ts';
import { nameOfKey, type WantedKey } from '../../server/src/core/reasoning/wanted-keys.ts';
import { type PlainBase, recordsOf } from '../harness/arbitrary-base.ts';
import { arbitraryShelf } from '../harness/arbitrary-shelf.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { snapshotOfBase } from '../harness/snapshot-of.ts';

/** What is asked of every planned swap of a base, with the laws that wait. */
function asked(base: PlainBase) {
  const snapshot = snapshotOfBase(base);
  return base.drive.flatMap(({ id }) =>
    (rankDonors(id, snapshot)?.donors ?? []).map(({ swap, verdict: { undecided } }) => ({
      keys: keysToInspect(undecided, swap, snapshot),
      byLaw: undecided.map((rule) => keysToInspect([rule], swap, snapshot)),
    })),
  );
}

const boardKeys: readonly string[] = ['board', 'rev', 'sticker', 'controller', 'motor_driver'];

function valueAt(base: PlainBase, { record, key }: WantedKey): unknown {
  const found = recordsOf(base).find(({ kind, id }) => `${kind}/${id}` === record);
  const path =
    boardKeys.includes(key) && found?.kind === 'drive' ? ['board', key === 'board' ? 'id' : key] : key.split('.');
  return path.reduce<unknown>((inside, step) => (inside as Record<string, unknown> | undefined)?.[step], found);
}

describe('keys to inspect', () => {
  it('a key to inspect holds no value, and is read on a label, a board or a ROM', () => {
    let keys = 0;
    assertLaw(
      80,
      fc.property(arbitraryShelf, (base) => {
        for (const key of asked(base).flatMap((one) => one.keys)) {
          keys++;
          expect(key.row?.readFrom, key.key).not.toBe('inside');
          expect(key.row?.readFrom, key.key).not.toBe('host');
          expect(key.record.startsWith('outcome/')).toBe(false);
          if (key.rev === undefined) expect(valueAt(base, key), nameOfKey(key)).toBeUndefined();
        }
      }),
    );
    expectOften(keys, 100);
  });

  it('nothing is asked of a part that is not there', () => {
    const halves = fc.array(fc.constantFrom('both', 'board_only', 'hda_only'), { minLength: 4, maxLength: 8 });
    assertLaw(
      80,
      fc.property(arbitraryShelf, halves, (start, parts) => {
        const base = {
          ...start,
          drive: start.drive.map((drive, n) => ({ ...drive, parts: parts[n % parts.length] as 'both' | 'board_only' })),
        };
        for (const { record, row } of asked(base).flatMap((one) => one.keys)) {
          const drive = base.drive.find(({ id }) => record === `drive/${id}`);
          if (drive?.parts === 'board_only') expect(row?.readFrom).not.toBe('label');
          if (`${drive?.parts}` === 'hda_only') expect(row?.readFrom).toBe('label');
        }
      }),
    );
  });

  it('the key that most laws wait for comes first', () => {
    assertLaw(
      80,
      fc.property(arbitraryShelf, (base) => {
        for (const { keys, byLaw } of asked(base)) {
          const counts = keys.map(
            (key) => byLaw.filter((list) => list.some((one) => nameOfKey(one) === nameOfKey(key))).length,
          );
          expect(counts).toEqual([...counts].sort((a, b) => b - a));
        }
      }),
    );
  });
});
