import type { BoardRevisionsRomsData } from '../../../../schemas/gen/records.ts';
import type { Swap } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { DriveRecord } from '../model/record.ts';
import { romWithAdaptives } from '../rom-images/rom-with-adaptives.ts';
import { type Evidence, evidenceOf } from '../verdicts/evidence.ts';
import { type Doubt, doubtsAbout } from '../verdicts/part-doubts.ts';
import { outcomesWith } from './outcomes-with.ts';

/** What is recorded of a donor besides what rules ask. */
export interface DonorFacts {
  /** Outcomes of patient and donor, whichever way round, by date. */
  readonly tried: readonly Evidence[];
  /** The latest outcome after the record's day that says its board is damaged, elsewhere, or that the drive failed as a whole. */
  readonly doubt: Doubt | undefined;
  /** The chip that holds adaptives on its board, else the only ROM; undefined where that is not known. */
  readonly chip: BoardRevisionsRomsData | undefined;
}

/** The facts of the donor of a planned swap. */
export function donorFacts({ patient, donor }: Swap, snapshot: Snapshot): DonorFacts {
  const { drive, revision } = donor;
  const doubts = doubtsAbout(drive, drive.data.condition?.as_of, snapshot);
  return {
    tried: triedWith(patient.drive, drive.id, snapshot),
    doubt: doubts.findLast(({ about }) => about !== 'media'),
    chip: romWithAdaptives(revision?.roms),
  };
}

function triedWith(patient: DriveRecord, donor: string, snapshot: Snapshot): Evidence[] {
  return outcomesWith(patient, snapshot)
    .filter(({ data }) => donor !== patient.id && (data.patient === donor || data.donor === donor))
    .map((one) => evidenceOf(one, snapshot));
}
