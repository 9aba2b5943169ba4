import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluate } from '../../server/src/core/conditions/evaluate.ts';
import type { Claim } from '../../server/src/core/explanations/claims-of.ts';
import type { DecidedSwap } from '../../server/src/core/explanations/decided-swaps.ts';
import { explainSwaps } from '../../server/src/core/explanations/explain-swaps.ts';
import { outcomesAgainst } from '../../server/src/core/explanations/outcomes-against.ts';
import { arbitraryDecided } from '../harness/arbitrary-decided.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';

/** What a claim has come of each swap: worked, failed, or nothing. */
function foretold({ formula, holds }: Claim, decided: readonly DecidedSwap[]): string {
  return decided
    .map(({ swap }) => {
      const truth = evaluate(formula, swap);
      return truth === undefined ? '?' : truth === (holds === 'works') ? 'w' : 'f';
    })
    .join('');
}

function exchanged(foretelling: string): string {
  return foretelling.replace(/[wf]/g, (letter) => (letter === 'w' ? 'f' : 'w'));
}

describe('explanations', () => {
  it('two conditions that divide the outcomes alike are one hypothesis', () => {
    let seen = 0;
    assertLaw(
      40,
      fc.property(arbitraryDecided, (decided) => {
        const { hypotheses } = explainSwaps(decided);
        const partitions = hypotheses.map(({ claim, equals }) => {
          const own = foretold(claim, decided);
          for (const equal of equals) expect(foretold(equal, decided)).toBe(own);
          seen += equals.length;
          return [own, exchanged(own)].sort().join();
        });
        expect(new Set(partitions).size).toBe(partitions.length);
      }),
    );
    expectOften(seen, 50);
  });

  it('the weights of all hypotheses and of none of them sum to 1', () => {
    assertLaw(
      40,
      fc.property(arbitraryDecided, (decided) => {
        const { hypotheses, none } = explainSwaps(decided);
        const weights = hypotheses.map(({ weight }) => weight);
        expect(weights.reduce((sum, weight) => sum + weight, none)).toBeCloseTo(1, 9);
        expect([...weights].sort((a, b) => b - a)).toEqual(weights);
      }),
    );
  });

  it('the order of the outcomes changes nothing', () => {
    const shuffled = arbitraryDecided.chain((list) =>
      fc.tuple(fc.constant(list), fc.shuffledSubarray([...list], { minLength: list.length })),
    );
    assertLaw(
      30,
      fc.property(shuffled, ([decided, again]) => {
        expect(explainSwaps(again)).toEqual(explainSwaps(decided));
      }),
    );
  });

  it('worked and failed exchanged keep every p', () => {
    assertLaw(
      40,
      fc.property(arbitraryDecided, (decided) => {
        const others = decided.map((one) => ({ ...one, works: !one.works }));
        const tests = (swaps: readonly DecidedSwap[]) =>
          new Map(
            explainSwaps(swaps).hypotheses.map(({ claim, tally: { test }, adjusted, weight }) => {
              const own = foretold(claim, swaps);
              return [[own, exchanged(own)].sort().join(), [test.p, test.least, adjusted ?? 2, weight]] as const;
            }),
          );
        const [before, after] = [tests(decided), tests(others)];
        expect(after.size).toBe(before.size);
        for (const [partition, values] of before) {
          expect(after.get(partition)).toEqual(values.map((value) => expect.closeTo(value, 9)));
        }
      }),
    );
  });

  it('a hypothesis that separates has no outcome against it, and the smallest p there could be', () => {
    let seen = 0;
    assertLaw(
      60,
      fc.property(arbitraryDecided, (decided) => {
        for (const { claim, tally } of explainSwaps(decided).hypotheses) {
          const { against, notKnown } = outcomesAgainst(claim, decided);
          expect(against.length === 0).toBe(tally.separates);
          const own = foretold(claim, decided);
          expect(notKnown.length).toBe(own.split('?').length - 1);
          const wrong = decided.filter(({ works }, n) => own[n] === (works ? 'f' : 'w'));
          expect(against).toEqual(wrong.map(({ outcome }) => outcome));
          if (!tally.separates) continue;
          seen++;
          expect(tally.test.p).toBeCloseTo(tally.test.least, 12);
          expect(tally.mixed).toEqual([]);
        }
      }),
    );
    expectOften(seen, 20);
  });
});
