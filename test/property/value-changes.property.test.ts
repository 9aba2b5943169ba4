import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { AnyRecord } from '../../server/src/core/model/record.ts';
import { valueChanges } from '../../server/src/core/review/value-changes.ts';
import { valueAt } from '../../server/src/core/syntax/value-at.ts';
import { arbitraryRecordWalk } from '../harness/arbitrary-walk.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { allRecords } from '../harness/describe-snapshot.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';

/** A record before and after some edits of a base. */
const arbitraryPair: fc.Arbitrary<readonly [AnyRecord, AnyRecord]> = arbitraryRecordWalk({ minLength: 1, maxLength: 5 })
  .map(([start, ...steps]): readonly (readonly [AnyRecord, AnyRecord])[] => {
    const [before, after] = [snapshotOf(start), snapshotOf(steps.at(-1) ?? start)];
    return allRecords(after).flatMap((record) => {
      const was = before.findAny(record.kind, record.id);
      return was ? [[was, record] as const] : [];
    });
  })
  .filter((pairs) => pairs.length > 0)
  .chain((pairs) => fc.constantFrom(...pairs.filter(([a, b]) => a !== b), ...pairs.slice(0, 1)));

describe('values that differ', () => {
  it('a record has no changes from itself, nor from one whose keys and list entries stand in another order', () => {
    assertLaw(
      40,
      fc.property(arbitraryPair, ([, record]) => {
        expect(valueChanges(record, record)).toEqual([]);
        expect(valueChanges(record, { ...record, data: reversed(record.data) } as AnyRecord)).toEqual([]);
      }),
    );
  });

  it('a value that is there now is found at its path, and a change of a key was at that path before', () => {
    let seen = 0;
    assertLaw(
      60,
      fc.property(arbitraryPair, ([before, after]) => {
        for (const { path, before: then, after: now } of valueChanges(before, after)) {
          seen++;
          expect(then === undefined && now === undefined ? path : then).not.toEqual(now);
          if (now !== undefined) expect(valueAt(after.data, path)).toEqual(now);
          if (path.every((step) => typeof step === 'string')) expect(valueAt(before.data, path)).toEqual(then);
        }
      }),
    );
    expectOften(seen, 20);
  });

  it('records differ where one has changes from the other, and then the other has as many', () => {
    assertLaw(
      40,
      fc.property(arbitraryPair, ([a, b]) => {
        const [there, back] = [valueChanges(a, b), valueChanges(b, a)];
        expect(there.filter((one) => one.before === undefined)).toHaveLength(
          back.filter((one) => one.after === undefined).length,
        );
        expect(there).toHaveLength(back.length);
      }),
    );
  });
});

function reversed<Value>(value: Value): Value {
  if (Array.isArray(value)) return value.map(reversed).reverse() as Value;
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .map(([key, inner]) => [key, reversed(inner)])
      .reverse(),
  ) as Value;
}
