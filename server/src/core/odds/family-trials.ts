import { evaluate } from '../conditions/evaluate.ts';
import type { Formula } from '../conditions/formula.ts';
import { romTravels } from '../conditions/rom-travels.ts';
import type { Swap } from '../conditions/swap.ts';
import type { Truth } from '../conditions/truth.ts';
import type { BaseConfig } from '../model/config.ts';
import type { Evidence } from '../verdicts/evidence.ts';
import type { Trial } from './count-pairs.ts';

/** Outcomes whose ROM travelled, did not, or is not known to have (undefined). */
export interface RomGroup {
  readonly romTravels: Truth;
  /** The eligible ones; a success is one that worked at the base's `works_at`. */
  readonly trials: readonly Trial[];
  /** Outcomes that worked without every control. */
  readonly worked: number;
  /** Inconclusive ones. */
  readonly open: number;
  /** Outcomes of which the condition is not known. They are counted nowhere else. */
  readonly notKnown: number;
}

/**
 * Outcomes by what became of the ROM: travelled, did not, not known. Where a condition is given, those that do not meet it are left
 * out.
 */
export function trialsByRom(
  evidence: readonly Evidence[],
  { worksAt }: BaseConfig,
  given?: Formula,
): readonly RomGroup[] {
  const groups = [true, false, undefined].map((travels) => ({
    ...{ romTravels: travels, trials: [] as Trial[] },
    ...{ worked: 0, open: 0, notKnown: 0 },
  }));
  for (const { swap, verdicts } of evidence) {
    const travels = swap && romTravels(swap);
    const group = groups.find((one) => one.romTravels === travels);
    const holds = given && swap ? evaluate(given, swap) : given === undefined || undefined;
    if (!group || holds === false) continue;
    const { isEligible, result } = verdicts[worksAt];
    if (holds === undefined) group.notKnown++;
    else if (!swap || result === 'inconclusive') group.open++;
    else if (!isEligible) group.worked++;
    else group.trials.push(trialOf(swap, result === 'works'));
  }
  return groups;
}

/** A swap that counts, and what came of it. */
export interface CountedSwap {
  readonly swap: Swap;
  readonly trial: Trial;
}

/** The eligible ones among outcomes, of those only whose ROM was in this state; of both where that is undefined. */
export function countedSwaps(
  evidence: readonly Evidence[],
  { worksAt }: BaseConfig,
  romState: Truth,
): readonly CountedSwap[] {
  return evidence.flatMap(({ swap, verdicts }) => {
    const { isEligible, result } = verdicts[worksAt];
    if (!swap || !isEligible || (romState !== undefined && romTravels(swap) !== romState)) return [];
    return { swap, trial: trialOf(swap, result === 'works') };
  });
}

/** A swap as a trial of its two drives. */
export function trialOf({ patient, donor }: Swap, succeeded: boolean): Trial {
  return { drives: [patient.drive.id, donor.drive.id], succeeded };
}

/** Several groups as one. */
export function joined(groups: readonly RomGroup[]): Omit<RomGroup, 'romTravels'> {
  const sum = (of: 'worked' | 'open' | 'notKnown'): number => groups.reduce((total, group) => total + group[of], 0);
  return {
    trials: groups.flatMap(({ trials }) => trials),
    ...{ worked: sum('worked'), open: sum('open'), notKnown: sum('notKnown') },
  };
}
