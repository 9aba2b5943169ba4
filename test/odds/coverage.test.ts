import { describe, expect, it } from 'vitest';
import { Random } from '../bench/base/random.ts';
import { controlFigures } from '../bench/odds/controls.ts';
import { lowestCoverage } from '../bench/odds/exact-coverage.ts';
import { shopCoverage } from '../bench/odds/shop-coverage.ts';
import { worlds } from '../bench/odds/worlds.ts';

// The same at length: npm run bench -- --odds.
describe('what the odds promise', () => {
  it('the exact interval holds every rate in 95 % of cases or more', () => {
    for (const pairs of [1, 2, 3, 5, 8, 13, 21, 34])
      expect(lowestCoverage(pairs).coverage).toBeGreaterThanOrEqual(0.95);
  });

  it('intervals hold in shops whose pairs share drives, some of them odd', () => {
    const all = worlds.map((world) => shopCoverage(new Random('test'), world, { sharing: 'at random', odd: 0.15 }, 2));
    const mean = (which: 'exact' | 'pooled'): number =>
      all.reduce((sum, one) => sum + one[which].share, 0) / all.length;
    expect(mean('exact')).toBeGreaterThan(0.95);
    expect(mean('pooled')).toBeGreaterThan(0.93);
  });

  it('the rate is right where four failures in five lack a control, and too high where every success counts', () => {
    const { eligible, allSuccesses } = controlFigures(new Random('test'), 0.6, 'whatever came of the swap', 1);
    expect(Math.abs(eligible - 0.6)).toBeLessThan(0.02);
    expect(allSuccesses).toBeGreaterThan(0.8);
  });
});
