import { exactInterval } from '../../../server/src/core/odds/exact-bounds.ts';

/** Rates at which coverage is worked out: 0.5 % to 99.5 %. */
const rates: readonly number[] = Array.from({ length: 199 }, (_, step) => (step + 1) / 200);

/**
 * How often, at the least favourable of many rates, the exact 95 % interval of so many independent pairs holds the true rate: worked
 * out over every number of successes, nothing is drawn.
 */
export function lowestCoverage(trials: number): { readonly rate: number; readonly coverage: number } {
  const intervals = Array.from({ length: trials + 1 }, (_, successes) => exactInterval({ successes, trials }, 0.95));
  const all = rates.map((rate) => {
    const chances = binomial(trials, rate);
    const coverage = intervals.reduce(
      (sum, [low, high], successes) => sum + (low <= rate && rate <= high ? (chances[successes] ?? 0) : 0),
      0,
    );
    return { rate, coverage };
  });
  return all.reduce((lowest, one) => (one.coverage < lowest.coverage ? one : lowest));
}

/** The chance of each number of successes. */
function binomial(trials: number, rate: number): number[] {
  let chances = [1];
  for (let trial = 0; trial < trials; trial++) {
    chances = [...chances, 0].map((chance, successes) => chance * (1 - rate) + (chances[successes - 1] ?? 0) * rate);
  }
  return chances;
}
