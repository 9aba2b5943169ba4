import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { betaQuantile } from '../../server/src/core/odds/beta-quantile.ts';
import { exactInterval, exactLowerBound, exactUpperBound } from '../../server/src/core/odds/exact-bounds.ts';
import { logGamma, regularizedBeta } from '../../server/src/core/odds/regularized-beta.ts';

const lines = readFileSync(new URL('../fixtures/stats/clopper-pearson.txt', import.meta.url), 'utf8')
  .split('\n')
  .filter((line) => /^\d/.test(line));

describe('exact bounds', () => {
  it('has the table', () => expect(lines).toHaveLength(63));

  it.each(lines)('agrees with R 4.2.2 on %s', (line) => {
    const [rate = '', confidence, low, high] = line.split(' ');
    const [successes, trials] = rate.split('/').map(Number);
    const [lower, upper] = exactInterval({ successes: successes!, trials: trials! }, Number(confidence));
    expect(lower).toBeCloseTo(Number(low), 8);
    expect(upper).toBeCloseTo(Number(high), 8);
  });

  // Source: NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4.1 (values from memory, the sixth digit left out).
  it('agrees with the published example of 4 in 20 at 90 %', () => {
    const [lower, upper] = exactInterval({ successes: 4, trials: 20 }, 0.9);
    expect(lower).toBeCloseTo(0.071354, 5);
    expect(upper).toBeCloseTo(0.401029, 5);
  });

  // Source: Newcombe, Statistics in Medicine 17 (1998) 857, table I, exact method (values from memory).
  it.each([
    [81, 263, 0.2527, 0.3676],
    [15, 148, 0.0578, 0.1617],
    [0, 20, 0, 0.1684],
    [1, 29, 0.0009, 0.1776],
  ])('agrees with the published table on %i in %i', (successes, trials, low, high) => {
    const [lower, upper] = exactInterval({ successes, trials }, 0.95);
    expect(lower).toBeCloseTo(low, 4);
    expect(upper).toBeCloseTo(high, 4);
  });

  // Source: Eypasch et al., BMJ 311 (1995) 619, "the rule of three", in its exact form.
  it.each([
    [30, 0.0950339],
    [60, 0.0487029],
    [100, 0.029513],
  ])('says what %i trials without a success allow', (trials, high) => {
    expect(exactUpperBound({ successes: 0, trials }, 0.95)).toBeCloseTo(high, 7);
    expect(exactLowerBound({ successes: trials, trials }, 0.95)).toBeCloseTo(1 - high, 7);
  });

  // Source: scipy 1.17.1, scipy.stats.beta.ppf.
  it.each([
    [2.5, 6.25, 0.95, 0.09969655514058058, 0.7721719396261908],
    [0.5, 1, 0.95, 0.0015429193026729464, 0.9984570806973271],
    [0.3, 4, 0.999, 1.599738397910678e-11, 0.8655377031419689],
    [10 / 3, 5, 0.9975, 0.09003369820104443, 0.9923822517473586],
    [13.75, 15, 0.95, 0.6986474420094857, 0.9929399484036501],
    [120.5, 20_000, 0.95, 0.005153632734614447, 0.007005607649723694],
  ])('takes votes that are no whole number: %d in %d at %d', (successes, trials, confidence, low, high) => {
    expect(exactLowerBound({ successes, trials }, confidence)).toBeCloseTo(low, 11);
    expect(exactUpperBound({ successes, trials }, confidence)).toBeCloseTo(high, 11);
  });
});

const quantiles = readFileSync(new URL('../fixtures/stats/beta-quantiles.txt', import.meta.url), 'utf8')
  .split('\n')
  .filter((line) => /^\d/.test(line))
  .map((line) => line.split(' ').map(Number));

describe('beta function', () => {
  it('has quantiles like those worked out to forty digits', () => {
    expect(quantiles).toHaveLength(80);
    for (const [probability = 0, a = 0, b = 0, quantile = 0] of quantiles) {
      expect(Math.abs(betaQuantile(probability, a, b) / quantile - 1)).toBeLessThan(5e-12);
    }
  });

  it('rests on a gamma function that gives factorials', () => {
    let factorial = 1;
    for (let n = 1; n <= 20; n++) {
      expect(Math.exp(logGamma(n)) / factorial).toBeCloseTo(1, 12);
      factorial *= n;
    }
    expect(Math.exp(logGamma(0.5)) / Math.sqrt(Math.PI)).toBeCloseTo(1, 12);
  });

  it.each([
    [0, 0],
    [-1, 0],
    [1, 1],
    [2, 1],
  ])('has nothing outside 0 to 1: at %d', (x, expected) => expect(regularizedBeta(x, 2, 3)).toBe(expected));
});
