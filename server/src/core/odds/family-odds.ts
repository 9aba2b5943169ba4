/**
 * How often swaps of a family worked, by whether the ROM travelled. Only eligible outcomes count: a success is always recorded as one,
 * a failure only with every control in place, so that counting all would make every rate too high.
 * Laws (test/property/family-odds.property.test.ts):
 * - every outcome of a family is in one row, worked without every control, or is inconclusive
 * - the odds after edits are those of a fresh base
 */
import { romTravels } from '../conditions/rom-travels.ts';
import type { Truth } from '../conditions/truth.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { BaseConfig } from '../model/config.ts';
import { rememberedWithin } from '../terms/remembered.ts';
import type { Evidence } from '../verdicts/evidence.ts';
import { evidenceByFamily } from '../verdicts/evidence-by-family.ts';
import { countPairs, independentTally, type PairCount, type Trial } from './count-pairs.ts';
import { exactInterval } from './exact-bounds.ts';

/** The eligible outcomes of a family whose ROM travelled, did not, or is not known to have (undefined). */
interface OddsRow {
  readonly romTravels: Truth;
  readonly outcomes: number;
  /** Votes are pairs that worked at the base's `works_at`. */
  readonly count: PairCount;
  /** Exact 95 % interval of the rate, 0 to 1, over independent pairs. */
  readonly exact: readonly [number, number];
}

/** What came of the swaps whose patient is of a family. */
export interface FamilyOdds {
  /** Travelled, not travelled, not known; rows without an outcome are left out. */
  readonly rows: readonly OddsRow[];
  /** Outcomes that are not eligible: those that worked all the same, and the inconclusive ones. */
  readonly uncontrolled: { readonly worked: number; readonly open: number };
}

/** The odds of a family by its id, worked out when they are asked for and kept for as long as its outcomes stay the same. */
export function familyOdds(family: string, snapshot: Snapshot): FamilyOdds {
  return oddsOf(evidenceByFamily(snapshot).get(family) ?? none, snapshot.config);
}

const none: readonly Evidence[] = [];

const oddsOf = rememberedWithin((evidence: readonly Evidence[], { worksAt }: BaseConfig): FamilyOdds => {
  const trials = new Map<Truth, Trial[]>([true, false, undefined].map((travels) => [travels, []]));
  let [worked, open] = [0, 0];
  for (const { swap, verdicts } of evidence) {
    const { isEligible, result } = verdicts[worksAt];
    if (!swap || result === 'inconclusive') open++;
    else if (!isEligible) worked++;
    else {
      const drives = [swap.patient.drive.id, swap.donor.drive.id] as const;
      trials.get(romTravels(swap))?.push({ drives, succeeded: result === 'works' });
    }
  }
  const rows = [...trials].flatMap(([travels, list]) => (list.length === 0 ? [] : rowOf(travels, list)));
  return { rows, uncontrolled: { worked, open } };
});

/** Both sides leave out as much: 2.5 %. */
const confidence = 0.95;

function rowOf(travels: Truth, trials: readonly Trial[]): OddsRow {
  const count = countPairs(trials);
  const exact = exactInterval(independentTally(count), confidence);
  return { romTravels: travels, outcomes: trials.length, count, exact };
}
