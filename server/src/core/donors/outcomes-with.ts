import type { Snapshot } from '../index/snapshot.ts';
import { type DriveRecord, isRetracted, type OutcomeRecord } from '../model/record.ts';
import { addTo } from '../terms/grouped.ts';
import { remembered } from '../terms/remembered.ts';
import { byDate } from '../verdicts/by-date.ts';

/** The outcomes a drive took part in, on either side, by date; retracted ones are left out. */
export function outcomesWith({ id }: DriveRecord, snapshot: Snapshot): readonly OutcomeRecord[] {
  return outcomesByDrive(snapshot).get(id) ?? [];
}

/** A shelf asks for thousands of drives in turn. */
const outcomesByDrive = remembered((snapshot: Snapshot): ReadonlyMap<string, readonly OutcomeRecord[]> => {
  const byDrive = new Map<string, OutcomeRecord[]>();
  for (const outcome of snapshot.records('outcome')) {
    if (isRetracted(outcome)) continue;
    const { patient, donor } = outcome.data;
    for (const id of patient === donor ? [patient] : [patient, donor]) {
      if (id !== undefined) addTo(byDrive, id, outcome);
    }
  }
  for (const list of byDrive.values()) list.sort(byDate);
  return byDrive;
});
