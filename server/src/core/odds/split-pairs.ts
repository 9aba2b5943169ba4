/**
 * Pairs of a family told apart by one question about the swap.
 * Laws (test/property/split-pairs.property.test.ts):
 * - only eligible outcomes are counted, each in at most one group
 * - what is not known of a swap puts it in no group
 */
import type { ComparableKey } from '../../../../schemas/gen/key-table.ts';
import { evaluateAtom } from '../conditions/evaluate.ts';
import { romTravels } from '../conditions/rom-travels.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { BaseConfig } from '../model/config.ts';
import { rememberedWithin } from '../terms/remembered.ts';
import type { Evidence } from '../verdicts/evidence.ts';
import { evidenceByFamily } from '../verdicts/evidence-by-family.ts';
import { countVotes, type PairVotes, type Trial } from './count-pairs.ts';
import { countedSwaps } from './family-trials.ts';

/** The eligible outcomes of a family whose ROM did or did not travel, and whose drives agree in a key or do not. */
export interface PairGroup extends PairVotes {
  readonly romTravels: boolean;
  readonly isSame: boolean;
}

/**
 * The eligible outcomes of a family by whether the ROM travelled and whether both drives agree in a key; votes are pairs that worked
 * at the base's `works_at`. ROM travelled first, equal keys first; groups without a pair are left out.
 */
export function splitPairs(family: string, key: ComparableKey, snapshot: Snapshot): readonly PairGroup[] {
  const evidence = evidenceByFamily(snapshot).get(family);
  if (!evidence) return [];
  const known = groupsOf(evidence, snapshot.config);
  const found = known.get(key) ?? computeGroups(evidence, key, snapshot.config);
  known.set(key, found);
  return found;
}

/** Groups by key, kept for as long as the outcomes of the family stay the same. */
const groupsOf = rememberedWithin(
  (_evidence: readonly Evidence[], _config: BaseConfig) => new Map<ComparableKey, readonly PairGroup[]>(),
);

function computeGroups(evidence: readonly Evidence[], key: ComparableKey, config: BaseConfig): readonly PairGroup[] {
  const groups = [true, false].flatMap((travels) =>
    [true, false].map((isSame) => ({ romTravels: travels, isSame, trials: [] as Trial[] })),
  );
  for (const { swap, trial } of countedSwaps(evidence, config, undefined)) {
    const travels = romTravels(swap);
    const isSame = evaluateAtom({ test: 'same', key }, swap);
    groups.find((one) => one.romTravels === travels && one.isSame === isSame)?.trials.push(trial);
  }
  return groups.flatMap(({ trials, ...group }) => (trials.length > 0 ? { ...group, ...countVotes(trials) } : []));
}
