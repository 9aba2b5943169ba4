import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { logLikelihood, pooledRates } from '../../server/src/core/odds/pooled-rates.ts';
import { logGamma } from '../../server/src/core/odds/regularized-beta.ts';
import { meanOfShares } from '../../server/src/core/odds/share-mixture.ts';

const { rats } = JSON.parse(readFileSync(new URL('../fixtures/stats/rat-tumours.json', import.meta.url), 'utf8')) as {
  readonly rats: readonly (readonly [number, number])[];
};

describe('rats with tumours', () => {
  const all = rats.map(([successes, trials]) => ({ successes, trials }));

  it('has the data', () => {
    expect([all.length, all.reduce((sum, { successes }) => sum + successes, 0)]).toEqual([71, 267]);
    expect(all.reduce((sum, { trials }) => sum + trials, 0)).toBe(1739);
  });

  it('has the likelihood that optim of R 4.2.2 and scipy 1.17.1 found to be the highest', () => {
    const [a, b] = [2.341614, 14.114803];
    const likelihood = (factor: number): number =>
      all.reduce((sum, tally) => sum + logLikelihood(tally, a * factor, b * factor) + logOrders(tally), 0);
    expect(likelihood(1)).toBeCloseTo(-156.56893, 5);
    for (const factor of [0.9, 1.1]) expect(likelihood(factor)).toBeLessThan(likelihood(1));
  });

  // Source: Gelman et al., Bayesian Data Analysis, 3rd edition (2013), section 5.1, which prints 1.4, 8.6 and 0.223 (from memory).
  it('shrinks 4 in 14 as the book does, where the parent is taken as known', () => {
    const [a, b] = [1.356149, 8.615058];
    expect(meanOfShares([{ weight: 1, a: a + 4, b: b + 10 }])).toBeCloseTo(0.223441, 6);
  });

  it('shrinks 4 in 14 as the same model does in scipy 1.17.1', () => {
    const rate = pooledRates(all.map((tally) => ({ ...tally, parent: 'rats' }))).at(-1)!;
    expect(rate.mean).toBeCloseTo(0.20920769917, 9);
    expect(rate.interval[0]).toBeCloseTo(0.08786630308, 7);
    expect(rate.interval[1]).toBeCloseTo(0.37096087262, 7);
  });
});

// Source: the same model written once more, with scipy 1.17.1 and numpy.
it('agrees with scipy on groups of three parents, one of them never tried', () => {
  const rates = pooledRates([
    { parent: 'wren', successes: 9, trials: 10 },
    { parent: 'wren', successes: 2.5, trials: 6 },
    { parent: 'teal', successes: 0, trials: 3 },
    { parent: 'teal', successes: 1, trials: 1 },
    { parent: 'crake', successes: 0, trials: 0 },
  ]);
  const expected = [
    [0.8118784459786, 0.5415910971011, 0.9817091558877],
    [0.4955547383994, 0.1614535437283, 0.8100379744831],
    [0.2447639037264, 0.0000846312318, 0.6930318837494],
    [0.5958411201362, 0.0903526352157, 0.9989743435036],
    [0.5214293124578, 0.0000094962064, 0.9999965496163],
  ];
  for (const [position, { mean, interval }] of rates.entries()) {
    for (const [part, value] of [mean, ...interval].entries()) expect(value).toBeCloseTo(expected[position]![part]!, 6);
  }
});

it('shows one trial neither as never nor as always', () => {
  const [once] = pooledRates([{ parent: 'wren', successes: 1, trials: 1 }]);
  expect(once!.mean).toBeCloseTo(0.77, 2);
  expect(once!.interval[0]).toBeLessThan(0.2);
});

/** Logarithm of the number of orders in which so many can have succeeded. */
function logOrders({ successes, trials }: { readonly successes: number; readonly trials: number }): number {
  return logGamma(trials + 1) - logGamma(successes + 1) - logGamma(trials - successes + 1);
}
