import type { AnyRecord } from '../model/record.ts';
import type { Path } from '../syntax/tape.ts';
import { type Column, textReportsOf } from './identity-rows.ts';

/** A serial number as a record holds it, masked or not. */
export interface RecordedSerial {
  readonly serial: string;
  readonly path: Path;
  /** Column of an identity row; undefined for a drive's own. */
  readonly column?: Column;
}

/** The serial numbers a record holds. */
export function recordedSerialsOf(record: AnyRecord): readonly RecordedSerial[] {
  if (record.kind === 'outcome') {
    return textReportsOf(record, 'serial').map(({ reported, path, column }) => ({ serial: reported, path, column }));
  }
  if (record.kind !== 'drive' || record.data.serial === undefined) return [];
  return [{ serial: record.data.serial, path: ['serial'] }];
}
