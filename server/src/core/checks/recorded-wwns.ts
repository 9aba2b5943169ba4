import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord, OutcomeRecord } from '../model/record.ts';
import { isSameWwn } from '../terms/wwn.ts';
import { foldText } from '../text/fold.ts';
import { contextOf, type DriveContext, pairOf } from '../verdicts/drive-context.ts';
import type { Column } from '../verdicts/identity-rows.ts';
import { allTextsOf, isThroughUsb } from '../verdicts/outcome-captures.ts';
import type { Draft } from './define-check.ts';
import { spotOf } from './report-spot.ts';

/** A world-wide name in a record. */
export interface RecordedWwn {
  readonly text: string;
  readonly spot: Required<Pick<Draft, 'at' | 'related'>>;
  /** Column of an identity row; undefined for a drive's own. */
  readonly column: Column | undefined;
  /** The drives one of which it should belong to; undefined for one that is not known. */
  readonly owners: readonly (DriveContext | undefined)[];
}

/**
 * The world-wide names of a record. Of an outcome only those that stand in neither drive's record and in no row before, so that one
 * wrong name is reported once; none behind a bridge, which may answer in its own name.
 */
export function recordedWwns(record: AnyRecord, snapshot: Snapshot): readonly RecordedWwn[] {
  if (record.kind === 'outcome') return reportedWwns(record, snapshot);
  if (record.kind !== 'drive' || record.data.wwn === undefined) return [];
  const spot = { at: { record, path: ['wwn'], side: 'value' } as const, related: [] };
  return [{ text: record.data.wwn, spot, column: undefined, owners: [contextOf(record, snapshot)] }];
}

function reportedWwns(outcome: OutcomeRecord, snapshot: Snapshot): RecordedWwn[] {
  if (outcome.data.host?.port === 'usb_bridge') return [];
  const reports = allTextsOf(outcome, snapshot, 'wwn').filter(
    ({ captured }) => !captured || !isThroughUsb(captured.capture),
  );
  if (reports.length === 0) return [];
  const { patient, donor } = pairOf(outcome, snapshot);
  const known = [patient, donor].flatMap((context) => context?.drive.data.wwn ?? []);
  const found: RecordedWwn[] = [];
  for (const report of reports) {
    const { reported: text, column } = report;
    if (known.includes(text) || known.some((other) => isSameName(text, other))) continue;
    known.push(text);
    found.push({ text, spot: spotOf(outcome, report), column, owners: ownersOf(column, patient, donor) });
  }
  return found;
}

function isSameName(a: string, b: string): boolean {
  return isSameWwn(a, b) === true || foldText(a) === foldText(b);
}

function ownersOf(
  column: Column,
  patient: DriveContext | undefined,
  donor: DriveContext | undefined,
): readonly (DriveContext | undefined)[] {
  if (column === 'patient_before') return [patient];
  return column === 'donor_before' ? [donor] : [patient, donor];
}
