import type { Snapshot } from '../index/snapshot.ts';
import type { OutcomeRecord } from '../model/record.ts';
import { exactBytes, isMismatch, isOtherSectors } from '../terms/capacity.ts';
import { isAtLeast } from '../terms/stages.ts';
import { byteSize } from '../text/byte-size.ts';
import { inThousands } from '../text/in-thousands.ts';
import { type DriveContext, type PairContext, pairOf } from '../verdicts/drive-context.ts';
import { isAfterSwap, reportsOf } from '../verdicts/identity-rows.ts';
import { type CapturedReport, capturedReports } from '../verdicts/outcome-captures.ts';
import { ownValueOf } from '../verdicts/own-value.ts';
import type { Draft } from './define-check.ts';
import { spotOf } from './report-spot.ts';

/** Captured sizes that are not those of the drive whose platters reported them. */
export function* capturedMismatches(outcome: OutcomeRecord, snapshot: Snapshot): Generator<Draft> {
  const { host, observed, reached } = outcome.data;
  if (host?.port === 'usb_bridge') return;
  const pair = pairOf(outcome, snapshot);
  // An assembly that is not detected may well answer with a wrong size: that is what was seen, and no fault of the records.
  const answersForItself = reached === undefined || isAtLeast(reached, 'detected');
  for (const report of capturedReports(outcome, snapshot)) {
    if (report.value !== 'capacity') continue;
    if (isAfterSwap(report.column) && (!answersForItself || observed?.capacity_right === false)) continue;
    const isPatient = report.column === 'patient_before' || report.column === 'after';
    const context = isPatient ? pair.patient : pair.donor;
    const draft = context && !isToldOfRow(outcome, report, pair) && capturedMismatch(outcome, report, context);
    if (draft) yield draft;
  }
}

/** Whether a row says the same as the capture, and was reported for it. */
function isToldOfRow(outcome: OutcomeRecord, { column }: CapturedReport, pair: PairContext): boolean {
  return reportsOf(outcome, 'capacity').some(
    (row) => row.column === column && ownValueOf(row, pair, outcome)?.fits === false,
  );
}

function capturedMismatch(outcome: OutcomeRecord, report: CapturedReport, { drive }: DriveContext): Draft | undefined {
  const { lbaCount, logicalSectorBytes } = report.captured.capture.facts.values;
  const { capacity_gb: nominalGb, host_protected: isProtected } = drive.data;
  const facts = { lbaCount, logicalSectorBytes, nominalGb };
  const bytes = exactBytes(facts);
  // Nothing is shown by a drive that answers 0.
  if (!bytes || nominalGb === undefined || isProtected === true || !isMismatch(facts)) return undefined;
  const hint = isOtherSectors(bytes, nominalGb) ? ' (counted in other sectors?)' : '';
  const { at, related } = spotOf(outcome, report);
  return {
    at,
    message: `The capture of \`${report.column}\` has \`${lbaCount}\` sectors of ${inThousands(logicalSectorBytes ?? 0)} bytes, that is ${byteSize(bytes)}, but \`capacity_gb\` of drive \`${drive.id}\` is \`${nominalGb}\`${hint}.`,
    related: [
      ...related,
      { at: { record: drive, path: ['capacity_gb'], side: 'value' }, message: 'The nominal capacity.' },
    ],
  };
}
