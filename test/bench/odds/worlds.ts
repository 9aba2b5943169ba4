import type { Random } from '../base/random.ts';
import type { World } from './shops.ts';

/** Ways in which rates of families may lie, from all alike to as different as can be. None is what the pooled estimate assumes. */
export const worlds: readonly World[] = [
  { name: 'families alike, most swaps work', rateOf: (_, own) => around(0.85, 0.1, own) },
  { name: 'families alike, few swaps work', rateOf: (_, own) => around(0.15, 0.1, own) },
  { name: 'families as different as can be', rateOf: (_, own) => own.next() },
  { name: 'families of two kinds, 5 % and 95 %', rateOf: (_, own) => (own.chance(0.5) ? 0.05 : 0.95) },
  { name: 'makers differ, their families less', rateOf: (maker, own) => around(0.2 + 0.6 * maker.next(), 0.15, own) },
  { name: 'all at 50 %', rateOf: () => 0.5 },
];

/** A rate at most so far from the middle. */
function around(middle: number, reach: number, random: Random): number {
  return middle + reach * (2 * random.next() - 1);
}
