import type { AnyRecord } from '../model/record.ts';
import type { KeyRow } from '../schema/key-rows.ts';
import { type Cursor, findCursor } from './cursor.ts';
import type { OpenFile } from './open-file.ts';

/** A key or value that a hover is asked for, with what is known around it. */
export interface HoverContext extends Cursor {
  readonly file: OpenFile;
  readonly row: KeyRow;
  /** The record it stands in; undefined in the config and where the record cannot be read. */
  readonly record: AnyRecord | undefined;
}

/** The context of an offset; undefined where no key known to a schema, nor its value, stands there. */
export function hoverContextAt(file: OpenFile, offset: number): HoverContext | undefined {
  const cursor = findCursor(file, offset);
  if (!cursor?.row) return undefined;
  const placed = file.snapshot.files.get(file.path)?.facts.records.find((one) => one.document === cursor.document);
  return { ...cursor, row: cursor.row, file, record: placed?.record };
}
