import type { AnyRecord } from '../model/record.ts';
import type { OpenFile } from './open-file.ts';

/** A record of an open file, and its root on the tape. */
export interface StandingRecord {
  readonly record: AnyRecord;
  readonly root: number;
}

/** The records of an open file that stand, in the order of the text. Those whose id is taken by another are left out: figures are not theirs. */
export function standingRecords({ path, tape, snapshot }: OpenFile): readonly StandingRecord[] {
  const placed = snapshot.files.get(path)?.facts.records ?? [];
  return placed.flatMap(({ record, document }) => {
    const root = tape.documents[document]?.root ?? -1;
    const stands = root >= 0 && snapshot.findAny(record.kind, record.id) === record;
    return stands ? [{ record, root }] : [];
  });
}
