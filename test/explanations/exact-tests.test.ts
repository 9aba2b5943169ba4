import { describe, expect, it } from 'vitest';
import { fisherExact } from '../../server/src/core/explanations/fisher-exact.ts';
import { adjustReachable, holm } from '../../server/src/core/explanations/many-tests.ts';
import { signTest } from '../../server/src/core/explanations/sign-test.ts';

describe('Fisher’s exact test', () => {
  // Sources: R 4.2.2, fisher.test, and scipy 1.17.1, fisher_exact, which agree; the first rows are Fisher's tea and the twins of R's help
  // page, the last four from scipy's own tests.
  it.each([
    [3, 1, 1, 3, 0.485714],
    [4, 0, 0, 4, 0.0285714],
    [2, 10, 15, 3, 0.000536724],
    [1, 9, 11, 3, 0.00275946],
    [6, 2, 1, 4, 0.1025641],
    [8, 2, 1, 5, 0.034965],
    [2, 7, 8, 2, 0.0230141],
    [5, 1, 10, 10, 0.1973244],
    [5, 0, 1, 4, 0.04761904],
    [0, 2, 6, 4, 0.4545454545],
  ])('of %d, %d against %d, %d', (withWorked, withFailed, withoutWorked, withoutFailed, p) => {
    const test = fisherExact({ withWorked, withFailed, withoutWorked, withoutFailed });
    expect(test.p / p).toBeCloseTo(1, 5);
  });

  it('says nothing where there is nothing to compare', () => {
    for (const counts of [
      [0, 0, 0, 0],
      [3, 2, 0, 0],
      [3, 0, 4, 0],
    ]) {
      const [withWorked = 0, withFailed = 0, withoutWorked = 0, withoutFailed = 0] = counts;
      expect(fisherExact({ withWorked, withFailed, withoutWorked, withoutFailed })).toEqual({ p: 1, least: 1 });
    }
  });

  it('holds a p too small for any number above 0', () => {
    const { p } = fisherExact({ withWorked: 2000, withFailed: 0, withoutWorked: 0, withoutFailed: 2000 });
    expect(p).toBeGreaterThan(0);
    expect(p).toBeLessThan(1e-290);
  });
});

// Source: twice the lower half of the binomial distribution at even chances, by hand: of 5 coins, (1 + 5) / 32 show one head or none.
it.each([
  [5, 0, 2 / 32, 2 / 32],
  [1, 4, 12 / 32, 2 / 32],
  [3, 3, 1, 2 / 64],
  [0, 0, 1, 1],
])('sign test of %d against %d', (oneWay, otherWay, p, least) => {
  expect(signTest(oneWay, otherWay)).toEqual({ p, least });
});

it('the sign test of very many that are even says that they are', () => {
  expect(signTest(600, 600).p).toBe(1);
  // Source: whole numbers of Python 3, twice the sum of math.comb(1200, k) for k up to 585, over 2 ** 1200.
  expect(signTest(585, 615).p).toBeCloseTo(0.402513637, 9);
});

describe('Holm’s method', () => {
  // Sources: R 4.2.2, p.adjust, and statsmodels, multipletests, which agree; the fifteen are those of Benjamini and Hochberg, Journal of the
  // Royal Statistical Society B 57 (1995) 289.
  it.each([
    [
      [0.5, 0.6, 0.1, 0.001],
      [1, 1, 0.3, 0.004],
    ],
    [
      [0.01, 0.04, 0.03, 0.005],
      [0.03, 0.06, 0.06, 0.02],
    ],
    [
      [0.01, 0.01, 0.04, 0.04, 0.2],
      [0.05, 0.05, 0.12, 0.12, 0.2],
    ],
    [
      [0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528, 0.759, 1],
      [0.0015, 0.0056, 0.0247, 0.114, 0.2211, 0.278, 0.278, 0.278, 0.3213, 1, 1, 1, 1, 1, 1],
    ],
  ])('of %j', (ps, adjusted) => {
    expect(holm(ps)).toEqual(adjusted.map((p) => expect.closeTo(p, 12)));
  });
});

it('what could never reach the threshold is not counted', () => {
  const could = { p: 0.02, least: 0.01 };
  const never = { p: 0.2, least: 0.2 };
  expect(adjustReachable([never, could, never, never])).toEqual([undefined, 0.02, undefined, undefined]);
  // Each could reach 1 %, which is 5 % shared by five, but not by six.
  expect(adjustReachable(Array.from({ length: 5 }, () => could))).toEqual(new Array(5).fill(0.1));
  expect(adjustReachable(Array.from({ length: 6 }, () => could))).toEqual(new Array(6).fill(undefined));
});
