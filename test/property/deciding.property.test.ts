import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deciding } from '../../server/src/core/reasoning/deciding.ts';
import { ruleResults } from '../../server/src/core/reasoning/rule-results.ts';
import { arbitraryBase, recordsOf } from '../harness/arbitrary-base.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { snapshotOfBase } from '../harness/snapshot-of.ts';

/** The value at the path of a key; board keys of a drive stand inside its `board`. */
function recordedAt(record: Readonly<Record<string, unknown>>, key: string): unknown {
  const inBoard = ['board', 'rev', 'sticker', 'controller', 'motor_driver'].includes(key) && record['kind'] === 'drive';
  const path = inBoard ? ['board', key === 'board' ? 'id' : key] : key.split('.');
  return path.reduce<unknown>((inside, step) => (inside as Record<string, unknown> | undefined)?.[step], record);
}

/** Values of a control that prove nothing, and lists that hold some but not all of what is needed. */
const provesNothing: readonly unknown[] = [undefined, 'works', 'not_tested'];

describe('what would decide', () => {
  it('only undecided outcomes are listed, each once for a rule', () => {
    assertLaw(
      150,
      fc.property(arbitraryBase, (base) => {
        const snapshot = snapshotOfBase(base);
        const undecided = new Set(
          ruleResults(snapshot).flatMap((result) =>
            result.undecided.map(({ outcome }) => `${result.rule.record.id} ${outcome.id}`),
          ),
        );
        const listed = deciding(snapshot).map(({ rule, outcome }) => `${rule.record.id} ${outcome.id}`);
        expect(new Set(listed).size).toBe(listed.length);
        for (const name of listed) expect(undecided.has(name)).toBe(true);
      }),
    );
  });

  it('a key that is asked for is not recorded, and can be read without opening the drive', () => {
    let asked = 0;
    assertLaw(
      150,
      fc.property(arbitraryBase, (base) => {
        const records = new Map(recordsOf(base).map((record) => [`${record.kind}/${record.id}`, record]));
        for (const { keys } of deciding(snapshotOfBase(base))) {
          expect(keys.length).toBeGreaterThan(0);
          for (const { record, rev, key, row } of keys) {
            asked++;
            expect(row, key).toBeDefined();
            expect(row?.readFrom).not.toBe('inside');
            const found = records.get(record) as unknown as Readonly<Record<string, unknown>>;
            expect(found, record).toBeDefined();
            if (key === 'host.meets' || key === 'controls.hda_proved_by' || key.startsWith('power_on_hours')) continue;
            if (rev === undefined) expect(provesNothing, key).toContain(recordedAt(found, key));
          }
        }
      }),
    );
    expectOften(asked, 100);
  });

  it('the key that most cases list comes first', () => {
    assertLaw(
      150,
      fc.property(arbitraryBase, (base) => {
        const cases = deciding(snapshotOfBase(base));
        const names = cases.map(({ keys }) => keys.map(({ record, rev, key }) => `${record} ${rev} ${key}`));
        const countOf = (name: string): number => names.filter((keys) => keys.includes(name)).length;
        for (const counts of names.map((keys) => keys.map(countOf))) {
          expect(counts).toEqual([...counts].sort((a, b) => b - a));
        }
        const best = names.map(([first = '']) => countOf(first));
        expect(best).toEqual([...best].sort((a, b) => b - a));
      }),
    );
  });
});
