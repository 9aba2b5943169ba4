import type { OutcomeData } from '../../../../schemas/gen/records.ts';
import { hasUnusable, type OutcomeRecord } from '../model/record.ts';
import { mostBytes } from '../terms/capacity.ts';
import { capacityFactsOf, type PairContext } from './drive-context.ts';

/** A check of the content, as an outcome records it, with its position in the list. */
export interface VerifyRow {
  readonly position: number;
  readonly row: NonNullable<OutcomeData['verify']>[number];
  /** Bytes the patient can hold, for each pass; undefined where its size or the passes are not known. */
  readonly limitBytes: number | undefined;
}

/** The `verify` rows of an outcome. */
export function verifyRowsOf(outcome: OutcomeRecord, { patient }: PairContext): readonly VerifyRow[] {
  const rows = outcome.data.verify ?? [];
  const most = patient && rows.length > 0 ? mostBytes(capacityFactsOf(patient)) : undefined;
  return rows.map((row, position) => {
    const isKnown = most !== undefined && !hasUnusable(outcome, 'verify', position, 'passes');
    return { position, row, limitBytes: isKnown ? most * (row.passes ?? 1) : undefined };
  });
}

/** Whether a row counts more bytes than the patient holds. */
export function isBeyondCapacity({ row, limitBytes }: VerifyRow): boolean {
  return row.bytes !== undefined && limitBytes !== undefined && row.bytes > limitBytes;
}
