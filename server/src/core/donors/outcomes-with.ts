import type { Snapshot } from '../index/snapshot.ts';
import { type DriveRecord, isRetracted, type OutcomeRecord } from '../model/record.ts';
import { rememberedWithin } from '../terms/remembered.ts';
import { byCodeUnits } from '../text/by-code-units.ts';

/**
 * The outcomes that count in which a drive took part, on either side, by date. Looked for among all of them: for one drive that
 * takes far less than to find out what names every record.
 */
export const outcomesWith = rememberedWithin((drive: DriveRecord, snapshot: Snapshot): readonly OutcomeRecord[] =>
  snapshot
    .records('outcome')
    .filter((one) => (one.data.patient === drive.id || one.data.donor === drive.id) && !isRetracted(one))
    .sort((a, b) => byCodeUnits(a.data.date ?? '', b.data.date ?? '') || byCodeUnits(a.id, b.id)),
);
