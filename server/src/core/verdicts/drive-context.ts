import type { Interface } from '../../../../schemas/gen/records.ts';
import { type RevisionData, sideOf } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import {
  type BoardRecord,
  type DriveRecord,
  type FamilyRecord,
  isRetracted,
  type MakerRecord,
  type OutcomeRecord,
} from '../model/record.ts';
import type { CapacityFacts } from '../terms/capacity.ts';
import { rememberedWithin } from '../terms/remembered.ts';

/**
 * A drive with the records whose facts its own are held against. Each is undefined where it is not recorded, not readable, or
 * retracted: facts that were withdrawn put nobody in the wrong.
 */
export interface DriveContext {
  readonly drive: DriveRecord;
  readonly family: FamilyRecord | undefined;
  readonly maker: MakerRecord | undefined;
  readonly board: BoardRecord | undefined;
  readonly revision: RevisionData | undefined;
}

/** The two drives of an outcome, each where it is recorded. */
export interface PairContext {
  readonly patient: DriveContext | undefined;
  readonly donor: DriveContext | undefined;
}

/** A drive with its family, maker, board and revision. */
export const contextOf = rememberedWithin((drive: DriveRecord, snapshot: Snapshot): DriveContext => {
  const side = sideOf(drive, snapshot);
  const family = standing(side.family);
  const board = standing(side.board);
  const maker = standing(snapshot.find('maker', family?.data.maker));
  return { drive, family, maker, board, revision: board && side.revision };
});

/** Patient and donor of an outcome, for which a dozen checks ask. A retracted drive is left out like one that is not recorded. */
export const pairOf = rememberedWithin((outcome: OutcomeRecord, snapshot: Snapshot): PairContext => {
  const find = (id: string | undefined): DriveContext | undefined => {
    const drive = standing(snapshot.find('drive', id));
    return drive && contextOf(drive, snapshot);
  };
  return { patient: find(outcome.data.patient), donor: find(outcome.data.donor) };
});

/** The drives of an outcome in a list, each with what it was there; one that is named twice stands once. */
export function sidesOf(
  pair: PairContext,
): readonly { readonly side: 'patient' | 'donor'; readonly context: DriveContext }[] {
  const { patient, donor } = pair;
  return [
    ...(patient ? [{ side: 'patient', context: patient } as const] : []),
    ...(donor && donor.drive !== patient?.drive ? [{ side: 'donor', context: donor } as const] : []),
  ];
}

/** What is recorded of the size of a drive. */
export function capacityFactsOf({ drive, family }: DriveContext): CapacityFacts {
  return {
    lbaCount: drive.data.lba_count,
    logicalSectorBytes: family?.data.sector_bytes?.logical,
    nominalGb: drive.data.capacity_gb,
  };
}

/** The interface a drive's own board speaks: that of the board where recorded, else the family's. */
export function interfaceOf(context: DriveContext | undefined): Interface | undefined {
  return context?.board?.data.interface ?? context?.family?.data.interface;
}

function standing<R extends FamilyRecord | MakerRecord | BoardRecord | DriveRecord>(
  record: R | undefined,
): R | undefined {
  return record && !isRetracted(record) ? record : undefined;
}
