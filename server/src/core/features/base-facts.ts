import { type Derivation, derivingAll, isAtHand, type Steps } from '../index/derivation.ts';
import { referrers } from '../index/referrers.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { resultsOfRules } from '../reasoning/rule-results.ts';
import { evidenceTableByFamily } from '../verdicts/evidence-by-family.ts';

/** What is said beside a text of a whole base follows from these. */
const baseFacts: readonly Derivation<unknown>[] = [referrers, evidenceTableByFamily, resultsOfRules];

/** Works out what can be said of a base beside its texts, so that to say it takes no time. */
export function gatherBaseFacts(snapshot: Snapshot): Steps<void> {
  return derivingAll(baseFacts, snapshot);
}

/** Whether that is worked out. */
export function hasBaseFacts(snapshot: Snapshot): boolean {
  return baseFacts.every((one) => isAtHand(one, snapshot));
}
