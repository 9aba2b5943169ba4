import { countPairs, independentTally } from '../../../server/src/core/odds/count-pairs.ts';
import { exactInterval } from '../../../server/src/core/odds/exact-bounds.ts';
import { pooledRates } from '../../../server/src/core/odds/pooled-rates.ts';
import type { Random } from '../base/random.ts';
import { type Habits, makeShop, type World } from './shops.ts';

/** How often something held, with the standard error of that: shops are independent, families of one shop are not. */
export interface Share {
  readonly share: number;
  readonly error: number;
}

/** How often 95 % intervals held the true rate of a family. */
export interface Coverage {
  readonly exact: Share;
  readonly pooled: Share;
}

/** Draws shops and counts, in each, the families whose true rate lies inside their intervals. */
export function shopCoverage(random: Random, world: World, habits: Habits, shops: number): Coverage {
  const seen = Array.from({ length: shops }, (_, n) => {
    const families = makeShop(random.fork(`${world.name}/${habits.sharing}/${habits.odd}/${n}`), world, habits);
    const tallies = families.map(({ trials }) => independentTally(countPairs(trials)));
    const pooled = pooledRates(tallies.map((tally, f) => ({ ...tally, parent: families[f]?.maker ?? '' })));
    const held = families.map(({ rate }, f) => ({
      exact: holds(exactInterval(tallies[f] ?? { successes: 0, trials: 1 }, 0.95), rate),
      pooled: holds(pooled[f]?.interval ?? [0, 0], rate),
    }));
    return { families: families.length, exact: count(held, 'exact'), pooled: count(held, 'pooled') };
  });
  return { exact: ratio(seen, 'exact'), pooled: ratio(seen, 'pooled') };
}

function holds([low, high]: readonly [number, number], rate: number): boolean {
  return low <= rate && rate <= high;
}

function count(held: readonly Record<keyof Coverage, boolean>[], which: keyof Coverage): number {
  return held.filter((one) => one[which]).length;
}

type Seen = Readonly<Record<keyof Coverage | 'families', number>>;

/** The ratio of two sums over shops. Source of its error: linearisation, as for any ratio of means (Cochran, Sampling Techniques, 1977, from memory). */
function ratio(seen: readonly Seen[], which: keyof Coverage): Share {
  const families = seen.reduce((sum, one) => sum + one.families, 0);
  const share = seen.reduce((sum, one) => sum + one[which], 0) / families;
  const squares = seen.reduce((sum, one) => sum + (one[which] - share * one.families) ** 2, 0);
  return { share, error: Math.sqrt(squares) / families };
}
