import type { AnyRecord } from '../model/record.ts';
import { documentAround } from './document-around.ts';
import type { OpenFile } from './open-file.ts';
import { standingRecords } from './standing-records.ts';

/** The record around an offset; undefined where there is none that stands. */
export function recordAt(file: OpenFile, offset: number): AnyRecord | undefined {
  const around = documentAround(file.tape.text, offset);
  const root = around && file.tape.documents[around.document]?.root;
  return standingRecords(file).find((one) => one.root === root)?.record;
}
