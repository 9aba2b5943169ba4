import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  logLikelihood,
  parentRates,
  pooledRates,
  strengths,
  type TriedGroup,
} from '../../server/src/core/odds/pooled-rates.ts';
import { regularizedBeta } from '../../server/src/core/odds/regularized-beta.ts';
import { quantileOfShares, type Share } from '../../server/src/core/odds/share-mixture.ts';
import { assertLaw } from '../harness/assert-law.ts';

const group: fc.Arbitrary<TriedGroup> = fc
  .record({
    parent: fc.constantFrom('wren', 'teal', 'crake'),
    trials: fc.integer({ min: 0, max: 12 }),
    share: fc.integer({ min: 0, max: 12 }),
  })
  .map(({ parent, trials, share }) => ({ parent, trials, successes: (trials * share) / 12 }));

const groups = fc.array(group, { minLength: 1, maxLength: 4 });

/** The mean rate of the first group, by going through every strength, overall rate and rate of each parent together. */
function meanByEnumeration(all: readonly TriedGroup[]): number {
  const [first] = all;
  if (!first) return Number.NaN;
  const names = [...new Set(all.map(({ parent }) => parent))];
  let [total, weighted] = [0, 0];
  for (const within of strengths) {
    for (const above of strengths) {
      for (const overall of parentRates) {
        // Parents are independent given what is above them, so that each may be summed up before they are multiplied.
        const density = parentRates.map((r) => r ** (above * overall - 1) * (1 - r) ** (above * (1 - overall) - 1));
        const whole = density.reduce((sum, one) => sum + one, 0);
        let [product, productWithMean] = [1, 1];
        for (const name of names) {
          let [plain, withMean] = [0, 0];
          for (const [part, rate] of parentRates.entries()) {
            const chance = all
              .filter(({ parent }) => parent === name)
              .reduce(
                (p, one) => p * Math.exp(logLikelihood(one, within * rate, within * (1 - rate))),
                density[part]! / whole,
              );
            plain += chance;
            withMean += chance * ((within * rate + first.successes) / (within + first.trials));
          }
          product *= plain;
          productWithMean *= name === first.parent ? withMean : plain;
        }
        total += product;
        weighted += productWithMean;
      }
    }
  }
  return weighted / total;
}

describe('pooled rates', () => {
  it('the distribution of a rate is that of full enumeration', () => {
    assertLaw(
      5,
      fc.property(groups, (all) => {
        expect(pooledRates(all)[0]!.mean).toBeCloseTo(meanByEnumeration(all), 9);
      }),
    );
  });

  it('the order of the groups changes nothing', () => {
    assertLaw(
      8,
      fc.property(groups, (all) => {
        const turned = pooledRates([...all].reverse()).reverse();
        for (const [position, { mean }] of pooledRates(all).entries())
          expect(turned[position]!.mean).toBeCloseTo(mean, 10);
      }),
    );
  });

  it('with successes and failures exchanged, every rate is one less itself', () => {
    assertLaw(
      8,
      fc.property(groups, (all) => {
        const mirrored = pooledRates(all.map((one) => ({ ...one, successes: one.trials - one.successes })));
        for (const [position, { mean, interval }] of pooledRates(all).entries()) {
          expect(mirrored[position]!.mean).toBeCloseTo(1 - mean, 10);
          expect(mirrored[position]!.interval[0]).toBeCloseTo(1 - interval[1], 7);
        }
      }),
    );
  });

  it('a success more raises the rate of its group, a failure more lowers it', () => {
    assertLaw(
      8,
      fc.property(groups, ([first, ...others]) => {
        const meanOf = (successes: number, failures: number): number => {
          const more = {
            ...first!,
            successes: first!.successes + successes,
            trials: first!.trials + successes + failures,
          };
          return pooledRates([more, ...others])[0]!.mean;
        };
        expect(meanOf(1, 0)).toBeGreaterThan(meanOf(0, 0));
        expect(meanOf(0, 1)).toBeLessThan(meanOf(0, 0));
      }),
    );
  });

  it('however others fared, own trials outweigh them in the end', () => {
    assertLaw(
      8,
      fc.property(groups, fc.double({ min: 0, max: 1, noNaN: true }), (others, rate) => {
        const trials = 5000;
        const [own] = pooledRates([{ parent: 'wren', successes: rate * trials, trials }, ...others]);
        expect(Math.abs(own!.mean - rate)).toBeLessThanOrEqual(strengths.at(-1)! / (strengths.at(-1)! + trials));
      }),
    );
  });
});

const parameter = fc.double({ min: 0.02, max: 60, noNaN: true });
const mixture: fc.Arbitrary<Share[]> = fc
  .array(fc.record({ weight: fc.integer({ min: 1, max: 9 }), a: parameter, b: parameter }), {
    minLength: 1,
    maxLength: 5,
  })
  .map((shares) => {
    const whole = shares.reduce((sum, { weight }) => sum + weight, 0);
    return shares.map((share) => ({ ...share, weight: share.weight / whole }));
  });

describe('mixtures', () => {
  it('below a quantile of a mixture lies as much of it as was asked for', () => {
    assertLaw(
      200,
      fc.property(mixture, fc.constantFrom(0.025, 0.5, 0.975), (shares, probability) => {
        const below = (x: number): number =>
          shares.reduce((sum, { weight, a, b }) => sum + weight * regularizedBeta(x, a, b), 0);
        const quantile = quantileOfShares(probability, shares);
        // Towards 0 and 1 a mixture may be so steep that no number comes nearer.
        expect(below(Math.max(0, quantile - 2e-9))).toBeLessThanOrEqual(probability + 1e-8);
        expect(below(Math.min(1, quantile + 2e-9))).toBeGreaterThanOrEqual(probability - 1e-8);
      }),
    );
  });
});
