import { type AnyRecord, nameOf } from '../model/record.ts';
import type { RecordChanges } from './review.ts';

/** The records that a change brought or altered. One that only bears another id is none. */
export function freshRecords({ added, changed, removed }: RecordChanges): readonly AnyRecord[] {
  const renamed = new Set(removed.flatMap(({ how }) => (typeof how === 'object' ? how.renamed : [])));
  return [...added, ...changed].map(({ record }) => record).filter((record) => !renamed.has(nameOf(record)));
}
