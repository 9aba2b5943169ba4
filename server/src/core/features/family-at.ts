import { documentAround } from './document-around.ts';
import { familiesOf } from './family-members.ts';
import type { OpenFile } from './open-file.ts';
import { standingRecords } from './standing-records.ts';

/** The id of the family that the record around an offset is or belongs to; undefined where there is none, or several. */
export function familyAt(file: OpenFile, offset: number): string | undefined {
  const around = documentAround(file.tape.text, offset);
  const root = around && file.tape.documents[around.document]?.root;
  const standing = standingRecords(file).find((one) => one.root === root);
  if (!standing) return undefined;
  const { record } = standing;
  const families = record.kind === 'family' ? [record.id] : familiesOf(record, file.snapshot);
  return families.length === 1 ? families[0] : undefined;
}
