import type { IdentityValue } from '../../../../schemas/gen/records.ts';
import type { OutcomeRecord } from '../model/record.ts';
import type { Path } from '../syntax/tape.ts';
import { remembered } from '../terms/remembered.ts';

const columns = ['patient_before', 'donor_before', 'after', 'other_after'] as const;

/** Which assembly reported a value: a drive as it came, or one of the two that boards were exchanged on. */
export type Column = (typeof columns)[number];

/** A value that an assembly reported about itself. */
export interface Report {
  readonly value: IdentityValue;
  readonly column: Column;
  readonly reported: string | number;
  /** Where it stands in the outcome. */
  readonly path: Path;
}

/** Everything the identity rows of an outcome hold, row by row. */
export const reportsOf = remembered((outcome: OutcomeRecord): readonly Report[] => {
  const reports: Report[] = [];
  for (const [position, row] of (outcome.data.identity ?? []).entries()) {
    const { value } = row;
    if (value === undefined) continue;
    for (const column of columns) {
      const reported = row[column];
      if (reported !== undefined) reports.push({ value, column, reported, path: ['identity', position, column] });
    }
  }
  return reports;
});

/** What assemblies reported of one value, as text: for values whose schema allows nothing else. */
export function textReportsOf(
  outcome: OutcomeRecord,
  value: IdentityValue,
): readonly (Report & { readonly reported: string })[] {
  return reportsOf(outcome).filter(
    (report): report is Report & { reported: string } => report.value === value && typeof report.reported === 'string',
  );
}
