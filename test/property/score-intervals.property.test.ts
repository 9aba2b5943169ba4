import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exactInterval, type Tally } from '../../server/src/core/odds/exact-bounds.ts';
import { jeffreysInterval } from '../../server/src/core/odds/jeffreys-interval.ts';
import { wilsonInterval } from '../../server/src/core/odds/wilson-interval.ts';
import { assertLaw } from '../harness/assert-law.ts';

/** Votes whole and not, none and all among them. */
const tallies: fc.Arbitrary<Tally> = fc
  .tuple(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 0, max: 120 }))
  .map(([trials, part]) => [trials, part / 120] as const)
  .map(([trials, share]) => ({ successes: trials * share, trials }));

describe('Wilson’s interval', () => {
  it('its ends are where the rate lies as many standard errors away as the confidence asks for', () => {
    assertLaw(
      300,
      fc.property(tallies, ({ successes, trials }) => {
        for (const end of wilsonInterval({ successes, trials })) {
          expect(end).toBeGreaterThanOrEqual(0);
          expect(end).toBeLessThanOrEqual(1);
          const away = (successes / trials - end) ** 2;
          if (away > 0) expect(away / ((end * (1 - end)) / trials)).toBeCloseTo(1.959963984540054 ** 2, 6);
        }
      }),
    );
  });
});

describe('Jeffreys’ interval', () => {
  it('it lies within the exact interval', () => {
    assertLaw(
      300,
      fc.property(tallies, fc.constantFrom(0.9, 0.95, 0.99), (tally, confidence) => {
        const [low, high] = jeffreysInterval(tally, confidence);
        const [lowest, highest] = exactInterval(tally, confidence);
        expect(low).toBeGreaterThanOrEqual(lowest - 1e-12);
        expect(high).toBeLessThanOrEqual(highest + 1e-12);
      }),
    );
  });
});
