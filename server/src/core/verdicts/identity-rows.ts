import type { IdentityValue } from '../../../../schemas/gen/records.ts';
import type { CaptureFacts } from '../captures/read-capture.ts';
import type { OutcomeRecord } from '../model/record.ts';
import type { Path } from '../syntax/tape.ts';

const columns = ['patient_before', 'donor_before', 'after', 'other_after'] as const;

/** Which assembly reported a value: a drive as it came, or one of the two that boards were exchanged on. */
export type Column = (typeof columns)[number];

/** Whether a column holds what was reported after the swap. */
export function isAfterSwap(column: Column): boolean {
  return column === 'after' || column === 'other_after';
}

/** A capture that an outcome names and that was read. */
export interface OutcomeCapture {
  readonly column: Column;
  /** Where the outcome names the file. */
  readonly path: Path;
  /** The path as written. */
  readonly written: string;
  /** Path of the file in the base. */
  readonly file: string;
  readonly contentId: string;
  readonly sha256: string;
  /** Where the outcome records the file's sum; undefined where it does not. */
  readonly sumPath: Path | undefined;
  /** Whether it is the file the outcome was written about, as far as that was recorded. */
  readonly isRecorded: boolean;
  readonly facts: CaptureFacts;
}

/** A value that an assembly reported about itself. */
export interface Report {
  readonly value: IdentityValue;
  readonly column: Column;
  readonly reported: string | number;
  /** Where it stands in the outcome; of a captured value, where the outcome names the capture. */
  readonly path: Path;
  /** The place in the capture file; absent for a value of an identity row. */
  readonly captured?: { readonly capture: OutcomeCapture; readonly path: Path };
}

/** What the identity rows of an outcome hold, of one value or of all, row by row. */
export function reportsOf(outcome: OutcomeRecord, wanted?: IdentityValue): readonly Report[] {
  const reports: Report[] = [];
  for (const [position, row] of (outcome.data.identity ?? []).entries()) {
    const { value } = row;
    if (value === undefined || (wanted !== undefined && value !== wanted)) continue;
    for (const column of columns) {
      const reported = row[column];
      if (reported !== undefined) reports.push({ value, column, reported, path: ['identity', position, column] });
    }
  }
  return reports;
}

/** What assemblies reported of one value, as text: for values whose schema allows nothing else. */
export function textReportsOf(
  outcome: OutcomeRecord,
  value: IdentityValue,
): readonly (Report & { readonly reported: string })[] {
  return reportsOf(outcome, value).filter(
    (report): report is Report & { reported: string } => typeof report.reported === 'string',
  );
}
