import type { BoardData } from '../../../../schemas/gen/records.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { BoardRecord, DriveRecord, FamilyRecord, OutcomeRecord } from '../model/record.ts';
import { rememberedWithin } from '../terms/remembered.ts';
import { foldText } from '../text/fold.ts';

/** A revision as recorded in its board. */
export type RevisionData = NonNullable<BoardData['revisions']>[number];

/** One end of a swap with the records it rests on; undefined where they are not recorded or not readable. */
export interface Side {
  readonly drive: DriveRecord;
  readonly family: FamilyRecord | undefined;
  readonly board: BoardRecord | undefined;
  readonly revision: RevisionData | undefined;
}

/** All records that a condition on one outcome can depend on. */
export interface Swap {
  readonly outcome: OutcomeRecord;
  readonly patient: Side;
  readonly donor: Side;
}

/** The swap of an outcome; undefined where its patient or donor is not recorded, or both are one drive, which is no swap. */
export function swapOf(outcome: OutcomeRecord, snapshot: Snapshot): Swap | undefined {
  if (outcome.data.patient === outcome.data.donor) return undefined;
  const patient = snapshot.find('drive', outcome.data.patient);
  const donor = snapshot.find('drive', outcome.data.donor);
  if (!patient || !donor) return undefined;
  return { outcome, patient: sideOf(patient, snapshot), donor: sideOf(donor, snapshot) };
}

/** A drive as one end of a swap. Most drives are in several. */
export const sideOf = rememberedWithin((drive: DriveRecord, snapshot: Snapshot): Side => {
  const board = snapshot.find('board', drive.data.board?.id);
  return {
    drive,
    family: snapshot.find('family', drive.data.family),
    board,
    revision: findRevision(board, drive.data.board?.rev),
  };
});

/** The revision of that name on a board; its first where a name stands twice. */
export function findRevision(board: BoardRecord | undefined, rev: string | undefined): RevisionData | undefined {
  if (rev === undefined) return undefined;
  const wanted = foldText(rev);
  return board?.data.revisions?.find((revision) => revision.rev !== undefined && foldText(revision.rev) === wanted);
}
