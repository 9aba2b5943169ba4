import type { IdentityValue, OutcomeCapturesData } from '../../../../schemas/gen/records.ts';
import type { Day } from '../terms/calendar.ts';
import type { CaptureProblem, CaptureValues } from './decoded.ts';
import { type Follows, followsOf, type Reported } from './follows.ts';

/** What a drive, or an assembly of two, reported of itself at one time. */
export interface TracedCapture {
  readonly values: CaptureValues;
  /** When it was taken; undefined where nobody wrote it down. */
  readonly taken?: Day | undefined;
  /** What else in it may be a serial number. */
  readonly likelySerials?: readonly string[];
  /** What was wrong with it by itself. */
  readonly problems?: readonly CaptureProblem[];
}

/** The captures of one swap, as far as they were taken. */
export interface TracedCaptures {
  /** Of the drive that gave the platters of `after`. */
  readonly patientBefore?: TracedCapture | undefined;
  /** Of the drive that gave the board of `after`. */
  readonly donorBefore?: TracedCapture | undefined;
  readonly after?: TracedCapture | undefined;
  /** Of the donor's platters with the patient's board. */
  readonly otherAfter?: TracedCapture | undefined;
}

/** Which of the captures of a swap. */
export type CaptureRole = keyof TracedCaptures;

/** The captures of a swap in the order they are shown in, each with its name in an outcome. */
export const captureColumns: readonly {
  readonly role: CaptureRole;
  readonly column: keyof OutcomeCapturesData;
}[] = [
  { role: 'patientBefore', column: 'patient_before' },
  { role: 'donorBefore', column: 'donor_before' },
  { role: 'after', column: 'after' },
  { role: 'otherAfter', column: 'other_after' },
];

/** The name of a capture in an outcome, in backticks. */
export function captureName(role: CaptureRole): string {
  return `\`${captureColumns.find((one) => one.role === role)?.column}\``;
}

const sources: Readonly<Record<IdentityValue, (values: CaptureValues) => string | number | undefined>> = {
  serial: ({ serial }) => serial,
  wwn: ({ wwn }) => wwn,
  model: ({ model }) => model,
  firmware: ({ firmware }) => firmware,
  capacity: ({ lbaCount }) => lbaCount,
  power_on_hours: ({ powerOnHours }) => powerOnHours,
  // Sectors that wait may be found good again, so only replaced ones are sure to grow.
  defect_counts: ({ reallocated }) => reallocated,
};

/** The values that are traced, in the order they are shown in. */
export const tracedValues = Object.keys(sources) as readonly IdentityValue[];

/** What a capture reports of a value, as an identity row has it. */
export function reportIn(value: IdentityValue, capture: TracedCapture | undefined): string | number | undefined {
  return capture && sources[value](capture.values);
}

/** An assembly of two drives, and what each value it reported follows. */
export interface Assembly {
  readonly role: 'after' | 'otherAfter';
  readonly capture: TracedCapture;
  readonly platters: Half;
  readonly board: Half;
  readonly follows: Readonly<Record<IdentityValue, Follows>>;
}

/** The drive that gave half of an assembly, as it was before. */
export interface Half {
  readonly role: 'patientBefore' | 'donorBefore';
  readonly capture: TracedCapture | undefined;
  /** Most hours between this capture and that of the assembly; undefined where a date is missing or they are out of order. */
  readonly hoursSince: number | undefined;
}

/** The assemblies there are captures of. */
export function assembliesOf(captures: TracedCaptures): readonly Assembly[] {
  const { after, otherAfter } = captures;
  return [
    ...(after ? [assemblyOf(captures, { role: 'after', capture: after })] : []),
    ...(otherAfter ? [assemblyOf(captures, { role: 'otherAfter', capture: otherAfter })] : []),
  ];
}

function assemblyOf(captures: TracedCaptures, assembled: Pick<Assembly, 'role' | 'capture'>): Assembly {
  const { capture, role } = assembled;
  const half = (before: Half['role']): Half => ({
    role: before,
    capture: captures[before],
    hoursSince: hoursBetween(captures[before]?.taken, capture.taken),
  });
  const [patient, donor] = [half('patientBefore'), half('donorBefore')];
  const [platters, board] = role === 'after' ? [patient, donor] : [donor, patient];
  const inBytes = isInBytes([platters.capture, board.capture, capture]);
  const report = (value: IdentityValue, of: TracedCapture | undefined): Reported =>
    value === 'capacity' && inBytes && of ? { bytes: bytesOf(of.values) } : reportIn(value, of);
  const hoursSince = { platters: platters.hoursSince, board: board.hoursSince };
  const trace = (value: IdentityValue): Follows =>
    followsOf({
      value,
      reported: report(value, capture),
      ofPlatters: report(value, platters.capture),
      ofBoard: report(value, board.capture),
      hoursSince,
    });
  const follows = Object.fromEntries(tracedValues.map((value) => [value, trace(value)]));
  return { ...assembled, platters, board, follows: follows as Record<IdentityValue, Follows> };
}

/**
 * Most hours between two captures; undefined where a date is missing or they are out of order. Captures bear dates and no times, so two
 * days may be as far apart as the first's morning and the second's night.
 */
export function hoursBetween(before: Day | undefined, after: Day | undefined): number | undefined {
  if (before === undefined || after === undefined || after < before) return undefined;
  return (after - before + 1) * 24;
}

/** Sectors of known size say how many bytes there are. */
function isInBytes(captures: readonly (TracedCapture | undefined)[]): boolean {
  return captures.every((one) => one?.values.lbaCount !== undefined && one.values.logicalSectorBytes !== undefined);
}

function bytesOf({ lbaCount = 0, logicalSectorBytes = 0 }: CaptureValues): number {
  return lbaCount * logicalSectorBytes;
}
