import { familiesOf } from './family-members.ts';
import type { OpenFile } from './open-file.ts';
import { recordAt } from './record-at.ts';

/** The id of the family that the record around an offset is or belongs to; undefined where there is none, or several. */
export function familyAt(file: OpenFile, offset: number): string | undefined {
  const record = recordAt(file, offset);
  if (!record) return undefined;
  const families = record.kind === 'family' ? [record.id] : familiesOf(record, file.snapshot);
  return families.length === 1 ? families[0] : undefined;
}
