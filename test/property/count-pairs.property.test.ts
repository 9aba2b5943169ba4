import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countPairs, independentTally, type Trial } from '../../server/src/core/odds/count-pairs.ts';
import { assertLaw } from '../harness/assert-law.ts';

const drives = fc.constantFrom('d-1', 'd-2', 'd-3', 'd-4', 'd-5', 'd-6');

const trials: fc.Arbitrary<Trial[]> = fc.array(
  fc.record({ drives: fc.tuple(drives, drives), succeeded: fc.boolean() }).filter(({ drives: [a, b] }) => a !== b),
  { minLength: 1, maxLength: 12 },
);

describe('counting of pairs', () => {
  it('the order of the trials changes nothing', () => {
    const shuffled = trials.chain((list) =>
      fc.tuple(fc.constant(list), fc.shuffledSubarray(list, { minLength: list.length, maxLength: list.length })),
    );
    assertLaw(
      200,
      fc.property(shuffled, ([list, again]) => {
        expect(countPairs(again)).toEqual(countPairs(list));
      }),
    );
  });

  it('a pair has one vote, whichever way round and however often it was tried', () => {
    assertLaw(
      200,
      fc.property(trials, (list) => {
        const doubled = list.flatMap((trial): Trial[] => [
          trial,
          { ...trial, drives: [trial.drives[1], trial.drives[0]] },
        ]);
        expect(countPairs(doubled)).toEqual(countPairs(list));
        const shares = new Map<string, boolean[]>();
        for (const { drives: pair, succeeded } of list) {
          const name = [...pair].sort().join('+');
          shares.set(name, [...(shares.get(name) ?? []), succeeded]);
        }
        const votes = [...shares.values()].map((tries) => tries.filter(Boolean).length / tries.length);
        const { pairs, votes: counted } = countPairs(list);
        expect(pairs).toBe(shares.size);
        expect(counted).toBeCloseTo(
          votes.reduce((sum, vote) => sum + vote, 0),
          12,
        );
      }),
    );
  });

  it('independent pairs are at most the pairs, and at most half the drives', () => {
    assertLaw(
      200,
      fc.property(trials, (list) => {
        const count = countPairs(list);
        expect(count.independentPairs).toBeGreaterThan(0);
        expect(count.independentPairs).toBeLessThanOrEqual(Math.min(count.pairs, count.drives / 2));
        const tally = independentTally(count);
        expect(tally.successes / tally.trials).toBeCloseTo(count.votes / count.pairs, 12);
        expect(tally.successes).toBeLessThanOrEqual(tally.trials);
      }),
    );
  });

  it('where no two pairs share a drive, all are independent', () => {
    assertLaw(
      50,
      fc.property(fc.array(fc.boolean(), { minLength: 1, maxLength: 9 }), (results) => {
        const apart = results.map((succeeded, n): Trial => ({ drives: [`p-${n}`, `d-${n}`], succeeded }));
        const succeeded = results.filter(Boolean).length;
        expect(countPairs(apart)).toEqual({
          ...{ pairs: results.length, votes: succeeded, drives: 2 * results.length },
          independentPairs: results.length,
        });
        expect(independentTally(countPairs(apart))).toEqual({ successes: succeeded, trials: results.length });
      }),
    );
  });
});
