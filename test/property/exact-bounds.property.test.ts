import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exactLowerBound, exactUpperBound, type Tally } from '../../server/src/core/odds/exact-bounds.ts';
import { regularizedBeta } from '../../server/src/core/odds/regularized-beta.ts';
import { assertLaw } from '../harness/assert-law.ts';

const whole: fc.Arbitrary<Tally> = fc
  .integer({ min: 1, max: 60 })
  .chain((trials) => fc.integer({ min: 0, max: trials }).map((successes) => ({ successes, trials })));

/** Votes as pairs with mixed results and shared drives give them. */
const real: fc.Arbitrary<Tally> = fc
  .tuple(fc.integer({ min: 1, max: 40 }), fc.double({ min: 0, max: 1, noNaN: true }))
  .map(([trials, share]) => ({ successes: trials * share, trials }));

const tallies = fc.oneof(whole, real);
const confidences = fc.constantFrom(0.5, 0.8, 0.95, 0.99, 0.9975);

/** Chance of `least` or more successes, term by term. */
function upperTail(least: number, trials: number, rate: number): number {
  let tail = 0;
  for (let successes = least; successes <= trials; successes++) {
    let term = 1;
    for (let i = 1; i <= successes; i++) term *= ((trials - successes + i) / i) * rate;
    tail += term * (1 - rate) ** (trials - successes);
  }
  return tail;
}

describe('exact bounds', () => {
  it('the rate lies between its bounds, and both between 0 and 1', () => {
    assertLaw(
      200,
      fc.property(tallies, confidences, (tally, confidence) => {
        const bounds = [exactLowerBound(tally, confidence), exactUpperBound(tally, confidence)];
        const inOrder = [0, bounds[0]!, tally.successes / tally.trials, bounds[1]!, 1];
        for (let next = 1; next < inOrder.length; next++) {
          expect(inOrder[next]! - inOrder[next - 1]!).toBeGreaterThanOrEqual(-1e-12);
        }
      }),
    );
  });

  it('a success more lowers no bound', () => {
    assertLaw(
      200,
      fc.property(tallies, confidences, fc.double({ min: 0, max: 1, noNaN: true }), (tally, confidence, more) => {
        const better = { ...tally, successes: Math.min(tally.trials, tally.successes + more) };
        for (const bound of [exactLowerBound, exactUpperBound])
          expect(bound(better, confidence) - bound(tally, confidence)).toBeGreaterThanOrEqual(-1e-12);
      }),
    );
  });

  it('more confidence narrows nothing', () => {
    assertLaw(
      200,
      fc.property(tallies, fc.tuple(confidences, confidences), (tally, pair) => {
        const [less, more] = [Math.min(...pair), Math.max(...pair)];
        expect(exactLowerBound(tally, more)).toBeLessThanOrEqual(exactLowerBound(tally, less));
        expect(exactUpperBound(tally, more)).toBeGreaterThanOrEqual(exactUpperBound(tally, less));
      }),
    );
  });

  it('the upper bound of successes is one less the lower bound of failures', () => {
    assertLaw(
      200,
      fc.property(tallies, confidences, ({ successes, trials }, confidence) => {
        const failures = { successes: trials - successes, trials };
        expect(exactUpperBound({ successes, trials }, confidence)).toBeCloseTo(
          1 - exactLowerBound(failures, confidence),
        );
      }),
    );
  });

  it('at a bound, what was seen or more of it has just the probability left over', () => {
    assertLaw(
      200,
      fc.property(whole, confidences, ({ successes, trials }, confidence) => {
        const lower = exactLowerBound({ successes, trials }, confidence);
        if (successes > 0) expect(upperTail(successes, trials, lower)).toBeCloseTo(1 - confidence, 9);
        const upper = exactUpperBound({ successes, trials }, confidence);
        if (successes < trials) expect(1 - upperTail(successes + 1, trials, upper)).toBeCloseTo(1 - confidence, 9);
      }),
    );
  });
});

describe('beta function', () => {
  it('the beta function of whole numbers is a sum of binomial terms', () => {
    assertLaw(
      200,
      fc.property(whole, fc.double({ min: 0.001, max: 0.999, noNaN: true }), ({ successes, trials }, x) => {
        fc.pre(successes > 0);
        expect(regularizedBeta(x, successes, trials - successes + 1)).toBeCloseTo(upperTail(successes, trials, x), 9);
      }),
    );
  });

  it('the beta function mirrored is one less itself', () => {
    const parameter = fc.double({ min: 0.01, max: 500, noNaN: true });
    assertLaw(
      200,
      fc.property(fc.nat(1024), parameter, parameter, (part, a, b) => {
        // So that one less x is exact too.
        const x = part / 1024;
        expect(regularizedBeta(x, a, b)).toBeCloseTo(1 - regularizedBeta(1 - x, b, a), 9);
      }),
    );
  });
});
