import type { IdentityValue } from '../../../../schemas/gen/records.ts';
import { isSameReport, mostHoursBetween } from '../captures/follows.ts';
import type { OutcomeRecord } from '../model/record.ts';
import { parseDate } from '../terms/calendar.ts';
import { fitsNominal } from '../terms/capacity.ts';
import type { Report } from '../verdicts/identity-rows.ts';
import type { CapturedReport } from '../verdicts/outcome-captures.ts';
import type { Draft } from './define-check.ts';
import { capturedSpot } from './report-spot.ts';

/** The captured value that contradicts a row's, if any. */
export function contradictingCapture(
  record: OutcomeRecord,
  row: Report,
  captured: readonly CapturedReport[],
): CapturedReport | undefined {
  return captured.find(
    (report) => report.value === row.value && report.column === row.column && fits(record, row, report) === false,
  );
}

/** What is said of a row that a capture contradicts. `name` is the value in words, `quoted` what the row reports as it may be shown. */
export function describeContradiction(
  record: OutcomeRecord,
  { column, path }: Report,
  { name, other, quoted }: { readonly name: string; readonly other: CapturedReport; readonly quoted: string | number },
): Draft {
  const { capture } = other.captured;
  const most = hoursBetween(record, other);
  const hours = other.value === 'power_on_hours' ? `, and at most \`${most}\` hours can lie between` : '';
  return {
    at: { record, path, side: 'value' },
    message: `${name} \`${quoted}\` in \`${column}\` is not the \`${other.reported}\` of capture \`${capture.written}\`${hours}.`,
    help: 'Copy the value from the capture, or name the capture this row was made from.',
    related: [capturedSpot(other.captured)],
  };
}

/** Whether a row and a capture can be of one assembly; undefined where that cannot be told. */
function fits(record: OutcomeRecord, row: Report, captured: CapturedReport): boolean | undefined {
  const { value, reported } = row;
  switch (value) {
    case 'capacity':
      return fitsCapacity(Number(reported), captured);
    case 'power_on_hours':
      // The row may have been read off a while before or after the capture was taken.
      return Math.abs(Number(reported) - Number(captured.reported)) <= hoursBetween(record, captured);
    case 'defect_counts':
      // They grow, nobody can say by how much, and a row may count those that wait, too.
      return undefined;
    case 'serial':
    case 'wwn':
    case 'model':
    case 'firmware':
      return isSameReport(value satisfies IdentityValue, reported, captured.reported);
  }
}

/** A row may count sectors, bytes or GB. */
function fitsCapacity(reported: number, { reported: sectors, captured }: CapturedReport): boolean | undefined {
  if (reported === sectors) return true;
  const { logicalSectorBytes } = captured.capture.facts.values;
  if (logicalSectorBytes === undefined) return isSameReport('capacity', reported, sectors);
  const bytes = Number(sectors) * logicalSectorBytes;
  // Sectors of another size are still the same number of bytes.
  return [1, 512, 4096].some((unit) => reported * unit === bytes) || fitsNominal(bytes, reported);
}

/** Most hours between the capture and the day of the outcome; those of any bench job where the capture has no date. */
function hoursBetween({ data }: OutcomeRecord, { captured }: CapturedReport): number {
  const { taken } = captured.capture.facts;
  const [from, to] = [taken, data.date].map((date) => (date === undefined ? undefined : parseDate(date)));
  return from === undefined || to === undefined ? mostHoursBetween : (Math.abs(to - from) + 1) * 24;
}
