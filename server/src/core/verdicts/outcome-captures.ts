import type { IdentityValue } from '../../../../schemas/gen/records.ts';
import { captureColumns, reportIn, tracedValues } from '../captures/assembly.ts';
import type { CaptureValues } from '../captures/decoded.ts';
import { maskSerials } from '../captures/mask-serials.ts';
import { namedAttachments } from '../index/attachments.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { hasUnusable, type OutcomeRecord } from '../model/record.ts';
import type { Path } from '../syntax/tape.ts';
import { rememberedWithin } from '../terms/remembered.ts';
import { type OutcomeCapture, type Report, reportsOf } from './identity-rows.ts';

/** The captures of an outcome, in the schema's order; those that are missing, or that nobody has looked at, left out. */
export const capturesOf = rememberedWithin((outcome: OutcomeRecord, snapshot: Snapshot): readonly OutcomeCapture[] => {
  if (outcome.data.captures === undefined) return none;
  return namedAttachments(outcome, snapshot).flatMap(({ path, written, inBase: file, found, sha256: recorded }) => {
    const column = captureColumns.find((one) => path[0] === 'captures' && path[1] === one.column)?.column;
    if (column === undefined || file === undefined || found?.state !== 'present') return [];
    const { contentId, sha256, capture: facts } = found;
    if (sha256 === undefined || facts === undefined) return [];
    const isRecorded = recorded === undefined || recorded.sum === sha256;
    return [{ column, path, written, file, contentId, sha256, sumPath: recorded?.path, isRecorded, facts }];
  });
});

const none: readonly OutcomeCapture[] = [];

/** Whether a capture came through USB, where a bridge may answer in its own name. */
export function isThroughUsb({ facts }: OutcomeCapture): boolean {
  return facts.values.transport === 'usb';
}

/** What a capture of an outcome reports of a value. */
export interface CapturedReport extends Report {
  readonly captured: { readonly capture: OutcomeCapture; readonly path: Path };
}

/** What the captures of an outcome report, each value in the form of identity rows; none of a file that changed since it was recorded. */
export const capturedReports = rememberedWithin(
  (outcome: OutcomeRecord, snapshot: Snapshot): readonly CapturedReport[] =>
    capturesOf(outcome, snapshot).flatMap((capture) => (capture.isRecorded ? reportsIn(capture, snapshot) : [])),
);

function reportsIn(capture: OutcomeCapture, { config }: Snapshot): readonly CapturedReport[] {
  const { column, path } = capture;
  // Findings quote what was reported, and end up in logs.
  const { values } = config.serials === 'full' ? capture.facts : maskSerials(capture.facts, 'masked');
  return tracedValues.flatMap((value) => {
    const reported = reportIn(value, { values });
    if (reported === undefined) return [];
    return [{ value, column, reported, path, captured: { capture, path: ['values', captureKeys[value]] } }];
  });
}

/** The keys of capture files by the values they are. */
const captureKeys: Readonly<Record<IdentityValue, keyof CaptureValues>> = {
  serial: 'serial',
  wwn: 'wwn',
  model: 'model',
  firmware: 'firmware',
  capacity: 'lbaCount',
  power_on_hours: 'powerOnHours',
  defect_counts: 'reallocated',
};

/**
 * What assemblies reported in an outcome, of one value or of all: its identity rows, then what its captures add. A captured value that has a
 * row of its own stands only there; whether the two agree is a question of its own.
 */
export function allReportsOf(outcome: OutcomeRecord, snapshot: Snapshot, wanted?: IdentityValue): readonly Report[] {
  const rows = reportsOf(outcome, wanted);
  const captured = capturedReports(outcome, snapshot).filter(
    ({ value, column }) =>
      (wanted === undefined || value === wanted) &&
      !rows.some((row) => row.value === value && row.column === column) &&
      // A row that cannot be read may be about this very value.
      !hasUnusable(outcome, 'identity'),
  );
  return captured.length === 0 ? rows : [...rows, ...captured];
}

/** The same of one value as text: for values whose schema allows nothing else. */
export function allTextsOf(
  outcome: OutcomeRecord,
  snapshot: Snapshot,
  value: IdentityValue,
): readonly (Report & { readonly reported: string })[] {
  return allReportsOf(outcome, snapshot, value).filter(
    (report): report is Report & { reported: string } => typeof report.reported === 'string',
  );
}
