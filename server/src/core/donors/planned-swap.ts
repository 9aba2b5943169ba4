import { type Side, type Swap, sideOf } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { DriveRecord } from '../model/record.ts';
import type { RomPlan } from './rom-plan.ts';

/** The swap there would be with a donor's board, done as planned. Its outcome has the empty id, which no record has. */
export function plannedSwap(
  patient: Side,
  donor: DriveRecord,
  plan: Pick<RomPlan, 'actions'>,
  snapshot: Snapshot,
): Swap {
  const { actions } = plan;
  return {
    outcome: {
      kind: 'outcome',
      id: '',
      data: { patient: patient.drive.id, donor: donor.id, ...(actions === undefined ? {} : { rom: actions }) },
      unusable: [],
    },
    patient,
    donor: sideOf(donor, snapshot),
  };
}
