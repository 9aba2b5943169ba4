import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { SharedMap } from '../../server/src/core/index/shared-map.ts';
import { assertLaw } from '../harness/assert-law.ts';

const arbitraryKey = fc.oneof(
  fc.constantFrom('a', 'b', '', '__proto__'),
  fc.nat(2000).map((number) => `outcomes/${number}.yaml`),
  fc.string(),
);
const arbitraryChanges = fc.array(fc.tuple(arbitraryKey, fc.option(fc.nat(3), { nil: undefined })), { maxLength: 60 });

type Changes = readonly (readonly [string, number | undefined])[];

/** The same changes made to a plain map. */
function plain(before: ReadonlyMap<string, number>, changes: Changes): Map<string, number> {
  const map = new Map(before);
  for (const [key, value] of changes) {
    if (value === undefined) map.delete(key);
    else map.set(key, value);
  }
  return map;
}

function entriesOf(map: SharedMap<number>): Map<string, number | undefined> {
  return new Map([...map.keys()].sort().map((key) => [key, map.get(key)]));
}

describe('shared map', () => {
  it('a shared map with changes holds what a plain map would', () => {
    assertLaw(
      300,
      fc.property(fc.array(arbitraryChanges, { maxLength: 5 }), arbitraryKey, (steps, key) => {
        let shared = SharedMap.of<number>();
        let expected = new Map<string, number>();
        for (const changes of steps) {
          const before = shared;
          const kept = entriesOf(before);
          shared = shared.with(changes);
          expected = plain(expected, changes);
          expect(entriesOf(shared)).toEqual(new Map([...expected].sort()));
          expect([shared.size, shared.has(key), shared.get(key)]).toEqual([
            expected.size,
            expected.has(key),
            expected.get(key),
          ]);
          expect([...shared.values()].sort()).toEqual([...expected.values()].sort());
          // The map it came from holds what it held.
          expect(entriesOf(before)).toEqual(kept);
        }
      }),
    );
  });

  it('what differs between two shared maps is what differs between plain ones', () => {
    assertLaw(
      300,
      fc.property(arbitraryChanges, arbitraryChanges, fc.boolean(), (first, second, isHeir) => {
        const a = SharedMap.of<number>().with(first);
        const b = (isHeir ? a : SharedMap.of<number>()).with(second);
        const [plainA, plainB] = [plain(new Map(), first), plain(isHeir ? plain(new Map(), first) : new Map(), second)];
        const keys = new Set([...plainA.keys(), ...plainB.keys()]);
        const expected = [...keys].filter((key) => plainA.get(key) !== plainB.get(key)).sort();
        expect([...a.differingKeys(b)].sort()).toEqual(expected);
        expect([...b.differingKeys(a)].sort()).toEqual(expected);
      }),
    );
  });
});
