import type { DriveRecord } from '../model/record.ts';
import type { OpenFile } from './open-file.ts';
import { recordAt } from './record-at.ts';

/** The drive that the record around an offset is about: itself, or the patient of an outcome; undefined for any other. */
export function driveAt(file: OpenFile, offset: number): DriveRecord | undefined {
  const record = recordAt(file, offset);
  if (record?.kind === 'drive') return record;
  return record?.kind === 'outcome' ? file.snapshot.find('drive', record.data.patient) : undefined;
}
