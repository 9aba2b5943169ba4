import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countPairs, pairsOf, type Trial } from '../../server/src/core/odds/count-pairs.ts';
import { rangeWithoutOneDrive } from '../../server/src/core/odds/drives-left-out.ts';
import { assertLaw } from '../harness/assert-law.ts';

const drives = fc.constantFrom('d-1', 'd-2', 'd-3', 'd-4', 'd-5');

const trials: fc.Arbitrary<Trial[]> = fc.array(
  fc.record({ drives: fc.tuple(drives, drives), succeeded: fc.boolean() }).filter(({ drives: [a, b] }) => a !== b),
  { maxLength: 10 },
);

describe('drives left out', () => {
  it('the range is that of the rates counted anew without each drive in turn', () => {
    assertLaw(
      400,
      fc.property(trials, (list) => {
        const rates = [...new Set(list.flatMap((trial) => trial.drives))].map((drive) => {
          const { pairs, votes } = countPairs(list.filter((trial) => !trial.drives.includes(drive)));
          return votes / pairs;
        });
        const range = rangeWithoutOneDrive(pairsOf(list));
        const isNothingLeft = rates.length === 0 || rates.some(Number.isNaN);
        expect(range === undefined).toBe(isNothingLeft);
        if (isNothingLeft) return;
        expect(range?.[0]).toBeCloseTo(Math.min(...rates), 12);
        expect(range?.[1]).toBeCloseTo(Math.max(...rates), 12);
      }),
    );
  });

  it('the rate of all pairs lies within the range', () => {
    assertLaw(
      400,
      fc.property(trials, (list) => {
        const range = rangeWithoutOneDrive(pairsOf(list));
        fc.pre(range !== undefined);
        const { pairs, votes } = countPairs(list);
        expect(range![0]).toBeLessThanOrEqual(votes / pairs + 1e-12);
        expect(range![1]).toBeGreaterThanOrEqual(votes / pairs - 1e-12);
      }),
    );
  });
});
