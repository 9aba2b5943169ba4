import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  examinationOf,
  mayTakeNextBoard,
  type ReadingKey,
  readingKeys,
} from '../../server/src/core/verdicts/examination.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { oneOfEach } from '../harness/base-values.ts';
import { snapshotOf } from '../harness/snapshot-of.ts';
import { sparse } from '../harness/sparse.ts';

const line = ['ok', 'open', 'shorted'] as const;
const values = {
  ...{ supply_5v: line, supply_12v: line, motor_windings: line, head_lines: line },
  ...{ contacts: ['clean', 'oxidised', 'burnt'], parts_burnt: [false, true] },
} as const;

const days = ['2026-03-01', '2026-03-02', '2026-04-01'] as const;

const row = fc
  .tuple(sparse(oneOfEach(values)), fc.constantFrom(...days))
  .map(([readings, on]): Row => ({ on, ...readings }));

type Row = { readonly on: string } & { readonly [Key in ReadingKey]?: unknown };

const rows = fc.array(row, { minLength: 1, maxLength: 5 });

function readingsOf(examined: readonly Row[]) {
  return examine(examined).readings;
}

function examine(examined: readonly Row[]) {
  const text = `kind: drive\nid: d-1\nfamily: tern-2\nexamined: ${JSON.stringify(examined)}\n`;
  return examinationOf(snapshotOf({ 'd.yaml': text }).find('drive', 'd-1')!);
}

describe('examinations', () => {
  it('the order of the rows changes nothing', () => {
    assertLaw(
      200,
      fc.property(rows, (examined) => {
        expect(readingsOf([...examined].reverse())).toEqual(readingsOf(examined));
      }),
    );
  });

  it('a later row has the last word on every key it records, and on no other', () => {
    assertLaw(
      200,
      fc.property(rows, row, (examined, last) => {
        const [before, after] = [readingsOf(examined), readingsOf([...examined, { ...last, on: '2026-05-01' }])];
        for (const key of readingKeys) {
          const since = before[key]?.value === last[key] ? before[key]?.since : '2026-05-01';
          expect(after[key]).toEqual(
            last[key] === undefined ? before[key] : { value: last[key], on: '2026-05-01', since },
          );
        }
      }),
    );
  });

  it('of several values of one day the gravest counts', () => {
    assertLaw(
      200,
      fc.property(fc.array(row, { minLength: 1, maxLength: 4 }), (examined) => {
        const found = readingsOf(examined.map((one) => ({ ...one, on: '2026-03-01' })));
        for (const key of readingKeys) {
          const gravity = (value: unknown): number => (values[key] as readonly unknown[]).indexOf(value);
          const seen = examined.flatMap((one) => (one[key] === undefined ? [] : gravity(one[key])));
          const gravest = seen.length === 0 ? undefined : values[key][Math.max(...seen)];
          expect(found[key]?.value).toBe(gravest);
        }
      }),
    );
  });

  it('what was measured before something burnt or was shorted clears nothing', () => {
    const seen = { risky: 0, cleared: 0 };
    assertLaw(
      500,
      fc.property(rows, (examined) => {
        const isRisky = riskByDays(examined);
        expect(mayTakeNextBoard(examine(examined))).toBe(isRisky);
        seen[isRisky ? 'risky' : 'cleared']++;
      }),
    );
    expectOften(Math.min(seen.risky, seen.cleared), 10);
  });
});

/** The same told day by day: whatever burns or is shorted takes away what was known of windings and head lines. */
function riskByDays(examined: readonly Row[]): boolean {
  const bad: Readonly<Record<ReadingKey, unknown>> = {
    ...{ supply_5v: 'shorted', supply_12v: 'shorted', motor_windings: 'shorted', head_lines: 'shorted' },
    ...{ contacts: 'burnt', parts_burnt: true },
  };
  const standing = new Set<ReadingKey>();
  const good = new Set<ReadingKey>();
  for (const day of days) {
    const readings = readingsOf(examined.filter(({ on }) => on === day));
    const noted = readingKeys.flatMap((key) => (readings[key] ? [[key, readings[key].value] as const] : []));
    for (const [key, value] of noted) {
      if (value === bad[key] && !standing.has(key)) good.clear();
      if (value === bad[key]) standing.add(key);
      else standing.delete(key);
    }
    for (const [key, value] of noted) {
      if (value === 'ok') good.add(key);
      else good.delete(key);
    }
  }
  return standing.size > 0 && !(good.has('motor_windings') && good.has('head_lines'));
}
