/**
 * How often each value that drives report of themselves was seen to follow the platters or the board, over the outcomes of a family.
 * Laws (test/property/identity-tally.property.test.ts):
 * - every value in an identity row of the family is counted once for each assembly, or decides nothing
 * - the tally after edits is that of a fresh base
 */
import type { IdentityValue } from '../../../../schemas/gen/records.ts';
import { tracedValues } from '../captures/assembly.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { rememberedWithin } from '../terms/remembered.ts';
import type { Evidence } from './evidence.ts';
import { evidenceByFamily } from './evidence-by-family.ts';
import { didRomStay, type FollowedValue, followedIn } from './identity-follows.ts';

/** How often a value followed what. Assemblies in which nothing could be told are not counted. */
export interface IdentityTally {
  readonly value: IdentityValue;
  readonly platters: number;
  /** Came with the platters while the ROM went along, or nobody knows whether it did. */
  readonly plattersOrRom: number;
  readonly board: number;
  /** Both drives reported the same before. */
  readonly sameOnBoth: number;
  /** What neither drive reported before. */
  readonly neither: number;
}

/** The tally of a family by its id: a row for each value that anything was seen of, in the order of `tracedValues`. */
export function identityTally(family: string, snapshot: Snapshot): readonly IdentityTally[] {
  return tallyOf(evidenceByFamily(snapshot).get(family) ?? none, snapshot);
}

const none: readonly Evidence[] = [];

type Count = Exclude<keyof IdentityTally, 'value'>;

const tallyOf = rememberedWithin((evidence: readonly Evidence[], snapshot: Snapshot): readonly IdentityTally[] => {
  const counts = new Map<IdentityValue, Record<Count, number>>();
  for (const { outcome } of evidence) {
    for (const followed of followedIn(outcome, snapshot)) {
      const count = countOf(followed, didRomStay(outcome));
      if (count === undefined) continue;
      const row = counts.get(followed.value) ?? { platters: 0, plattersOrRom: 0, board: 0, sameOnBoth: 0, neither: 0 };
      row[count]++;
      counts.set(followed.value, row);
    }
  }
  return tracedValues.flatMap((value) => {
    const row = counts.get(value);
    return row ? [{ value, ...row }] : [];
  });
});

function countOf({ follows }: FollowedValue, romStayed: boolean): Count | undefined {
  switch (follows) {
    case 'platters':
      return romStayed ? 'platters' : 'plattersOrRom';
    case 'same_on_both':
      return 'sameOnBoth';
    case 'not_known':
      return undefined;
    case 'board':
    case 'neither':
      return follows;
  }
}
