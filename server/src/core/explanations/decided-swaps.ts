import type { Snapshot } from '../index/snapshot.ts';
import { evidenceByFamily } from '../verdicts/evidence-by-family.ts';
import { pairName } from '../verdicts/pair-name.ts';
import type { ComparedSwap } from './entry-classes.ts';

/** An outcome that worked or failed at the base's `works_at`. */
export interface DecidedSwap extends ComparedSwap {
  /** The outcome's id. */
  readonly outcome: string;
  readonly works: boolean;
}

/** The decided outcomes whose patient is of a family, by id, and how many others there are. */
export function decidedSwaps(
  family: string,
  snapshot: Snapshot,
): { readonly decided: readonly DecidedSwap[]; readonly open: number } {
  const evidence = evidenceByFamily(snapshot).get(family) ?? [];
  const decided = evidence.flatMap(({ outcome, swap, verdicts }): DecidedSwap[] => {
    const { result } = verdicts[snapshot.config.worksAt];
    if (!swap || result === 'inconclusive') return [];
    const pair = pairName(swap.patient.drive.id, swap.donor.drive.id);
    return [{ outcome: outcome.id, swap, pair, works: result === 'works' }];
  });
  return { decided, open: evidence.length - decided.length };
}
