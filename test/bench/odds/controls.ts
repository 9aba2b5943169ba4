import { familyRates } from '../../../server/src/core/odds/family-rates.ts';
import { manyPairs, type PairOutcome } from '../../harness/many-pairs.ts';
import { snapshotOf } from '../../harness/snapshot-of.ts';
import type { Random } from '../base/random.ts';

/** When a bench makes the controls that a failure needs to count. */
export type ControlHabit = 'whatever came of the swap' | 'after failures only' | 'after every success';

/** How the rate of a family comes out where four failures in five lack a control. */
export interface ControlFigures {
  readonly truth: number;
  /** Over eligible outcomes, as the odds have it. */
  readonly eligible: number;
  /** Over eligible failures and every success, controlled or not. */
  readonly allSuccesses: number;
}

/** Swaps of one base: a file holds no more than a megabyte. */
const swapsOfBase = 5000;

/** Records swaps of pairs that share no drive in so many bases, and asks each for its odds. */
export function controlFigures(random: Random, truth: number, habit: ControlHabit, bases: number): ControlFigures {
  let [pairs, votes, worked] = [0, 0, 0];
  for (let base = 0; base < bases; base++) {
    const outcomes = Array.from({ length: swapsOfBase }, (_, n): PairOutcome => {
      const works = random.chance(truth);
      const isControlled = random.chance(chanceOf(habit, works));
      return { patient: `p-${n}`, donor: `d-${n}`, works, ...(isControlled ? {} : { more: '' }) };
    });
    const row = familyRates(snapshotOf(manyPairs(outcomes, {}))).find(({ romTravels }) => romTravels === undefined);
    pairs += row?.count.pairs ?? 0;
    votes += row?.count.votes ?? 0;
    worked += row?.uncontrolled.worked ?? 0;
  }
  return { truth, eligible: votes / pairs, allSuccesses: (votes + worked) / (pairs + worked) };
}

function chanceOf(habit: ControlHabit, works: boolean): number {
  switch (habit) {
    case 'whatever came of the swap':
      return 0.2;
    case 'after failures only':
      return works ? 0 : 0.2;
    case 'after every success':
      return works ? 1 : 0.2;
  }
}
