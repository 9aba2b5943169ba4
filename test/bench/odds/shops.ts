import type { Trial } from '../../../server/src/core/odds/count-pairs.ts';
import type { Random } from '../base/random.ts';

/** What the rates of a shop's families are like. */
export interface World {
  readonly name: string;
  /** The true rate of a family, given the source of its maker and its own. */
  readonly rateOf: (maker: Random, own: Random) => number;
}

/** Ways in which pairs share drives. */
export const sharings = [
  'apart',
  'all with all',
  'one donor',
  'few donors',
  'at random',
  'one donor and some apart',
] as const;

/** Which drives are tried with which. */
export type Sharing = (typeof sharings)[number];

/** How a shop works. */
export interface Habits {
  readonly sharing: Sharing;
  /** Share of the drives whose swaps all fail, whatever the other drive. */
  readonly odd: number;
}

/** A family as nature made it, and what the shop tried of it. */
export interface TrueFamily {
  readonly maker: string;
  /** Rate at which two drives picked from the family work on one another. */
  readonly rate: number;
  readonly trials: readonly Trial[];
}

/** A shop of one to four makers with one to four families each. */
export function makeShop(random: Random, world: World, habits: Habits): TrueFamily[] {
  return Array.from({ length: random.integer(1, 4) }, (_, m) => `maker-${m}`).flatMap((maker) =>
    Array.from({ length: random.integer(1, 4) }, (_, f): TrueFamily => {
      const rate = world.rateOf(random.fork(maker), random.fork(`${maker}-${f}`));
      return { maker, rate: rate * (1 - habits.odd) ** 2, trials: tryFamily(random, rate, habits) };
    }),
  );
}

function tryFamily(random: Random, rate: number, { sharing, odd }: Habits): Trial[] {
  const drives = Array.from({ length: 24 }, (_, n) => ({ id: `d-${n}`, isOdd: random.chance(odd) }));
  return pairsOf(random, sharing).map(([a, b]): Trial => {
    const [patient, donor] = [drives[a], drives[b]];
    if (!patient || !donor) throw new RangeError('A pair of drives that are not there.');
    return {
      drives: [patient.id, donor.id],
      succeeded: random.chance(rate) && !patient.isOdd && !donor.isOdd,
    };
  });
}

/** Pairs of drives by number, 1 to 15 of them. */
function pairsOf(random: Random, sharing: Sharing): (readonly [number, number])[] {
  switch (sharing) {
    case 'apart':
      return numbers(random.integer(1, 10)).map((n) => [2 * n, 2 * n + 1]);
    case 'all with all': {
      const drives = numbers(random.integer(2, 6));
      return drives.flatMap((a) => drives.filter((b) => b > a).map((b) => [a, b] as const));
    }
    case 'one donor':
      return numbers(random.integer(1, 12)).map((n) => [n + 1, 0]);
    case 'few donors': {
      const donors = random.integer(2, 4);
      return numbers(random.integer(donors, 15)).map((n) => [n + 4, n < donors ? n : random.integer(0, donors - 1)]);
    }
    case 'at random': {
      const drives = random.integer(3, 10);
      const all = numbers(random.integer(1, 15)).map(() => {
        const first = random.integer(1, drives - 1);
        return [first, random.integer(0, first - 1)] as const;
      });
      return [...new Map(all.map((pair) => [pair.join(), pair])).values()];
    }
    case 'one donor and some apart': {
      const shared = random.integer(4, 9);
      const apart = numbers(random.integer(2, 5)).map((n) => [2 * n + 10, 2 * n + 11] as const);
      return [...numbers(shared).map((n) => [n + 1, 0] as const), ...apart];
    }
  }
}

function numbers(count: number): number[] {
  return Array.from({ length: count }, (_, n) => n);
}
