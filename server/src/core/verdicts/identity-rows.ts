import type { IdentityValue } from '../../../../schemas/gen/records.ts';
import type { OutcomeRecord } from '../model/record.ts';
import type { Path } from '../syntax/tape.ts';

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
export function reportsOf(outcome: OutcomeRecord): readonly Report[] {
  const reports = known.get(outcome) ?? findReports(outcome);
  known.set(outcome, reports);
  return reports;
}

/** Several checks ask for the reports of one outcome, and a record never changes. */
const known = new WeakMap<OutcomeRecord, readonly Report[]>();

function findReports(outcome: OutcomeRecord): readonly Report[] {
  return (outcome.data.identity ?? []).flatMap((row, position) =>
    columns.flatMap((column) => {
      const { value } = row;
      const reported = row[column];
      if (value === undefined || reported === undefined) return [];
      return [{ value, column, reported, path: ['identity', position, column] }];
    }),
  );
}

/** What assemblies reported of one value, as text: for values whose schema allows nothing else. */
export function textReportsOf(
  outcome: OutcomeRecord,
  value: IdentityValue,
): readonly (Report & { readonly reported: string })[] {
  return reportsOf(outcome).filter(
    (report): report is Report & { reported: string } => report.value === value && typeof report.reported === 'string',
  );
}
