/**
 * What became of the values that two drives reported of themselves when their boards were exchanged.
 * Laws (test/property/trace.property.test.ts):
 * - platters and board exchanged, what followed the one follows the other
 * - what is not reported decides nothing
 * - captures in each other's place are noticed
 * - captures of one swap in their places raise nothing
 * - a serial number stands in the result only as it is to be shown
 * - never throws
 */
import type { FamilyIdentityData, IdentityValue } from '../../../../schemas/gen/records.ts';
import {
  type Assembly,
  assembliesOf,
  type CaptureRole,
  captureColumns,
  captureName,
  reportIn,
  type TracedCaptures,
  tracedValues,
} from './assembly.ts';
import type { CaptureProblem } from './decoded.ts';
import type { Follows } from './follows.ts';
import { type SerialPolicy, serialCover } from './mask-serials.ts';
import { pairingProblems } from './wrong-pairing.ts';

/** What a trace goes by besides the captures. */
export interface TraceOptions {
  /** How serial numbers are shown and written down. */
  readonly serials: SerialPolicy;
  /** Where the family keeps its values, as far as it is recorded. */
  readonly identity?: FamilyIdentityData | undefined;
}

/** A value as each capture reports it; absent where one does not. Sizes in sectors, serial numbers as they may be shown. */
export interface TracedValue extends Readonly<Partial<Record<CaptureRole, string | number>>> {
  readonly value: IdentityValue;
  readonly follows: Follows;
}

/** What became of the values, in the shape of the JSON output. */
export interface TraceResult {
  /** The values that any capture reports. */
  readonly values: readonly TracedValue[];
  readonly problems: readonly CaptureProblem[];
}

/** Traces what the captures report. With both assemblies a value follows what it follows in each of them. */
export function traceOf(captures: TracedCaptures, options: TraceOptions): TraceResult {
  const assemblies = assembliesOf(captures);
  const shown = shownBy(captures, options.serials);
  const problems = [
    ...ownProblems(captures),
    ...pairingProblems(captures, assemblies, options),
    ...directionProblems(assemblies),
  ];
  return {
    values: tracedValues.flatMap((value) => {
      const reports = captureColumns.flatMap(({ role }) => {
        const report = reportIn(value, captures[role]);
        return report === undefined ? [] : [[role, shown.report(value, report)] as const];
      });
      const { follows } = joinedFollows(value, assemblies);
      return reports.length === 0 ? [] : [{ value, ...Object.fromEntries(reports), follows }];
    }),
    problems: problems.map(({ severity, message }) => ({ severity, message: shown.text(message) })),
  };
}

/** What may be shown of what was reported. */
interface Shown {
  /** Undefined where nothing of it may be. */
  readonly report: (value: IdentityValue, report: string | number) => string | number | undefined;
  readonly text: (text: string) => string;
}

function shownBy(captures: TracedCaptures, policy: SerialPolicy): Shown {
  const serials = captureColumns.flatMap(({ role }) => {
    const { values: { serial } = {}, likelySerials = [] } = captures[role] ?? {};
    return serial === undefined ? likelySerials : [serial, ...likelySerials];
  });
  const cover = policy === 'full' ? undefined : serialCover(serials, policy);
  if (!cover) return { report: (_, report) => report, text: (text) => text };
  return {
    report: (value, report) => {
      // World-wide names lead to no owner, and with stars in them they would be none.
      if (typeof report === 'number' || value === 'wwn') return report;
      return value === 'serial' ? cover.instead(report) : cover.clean(report);
    },
    text: cover.clean,
  };
}

/** What each capture had wrong by itself. */
function ownProblems(captures: TracedCaptures): CaptureProblem[] {
  return captureColumns.flatMap(({ role }) =>
    (captures[role]?.problems ?? []).map(({ severity, message }) => ({
      severity,
      message: `${captureName(role)}: ${message}`,
    })),
  );
}

/** One problem for all values that the two assemblies tell different things of. */
function directionProblems(assemblies: readonly Assembly[]): CaptureProblem[] {
  const apart = tracedValues.filter((value) => joinedFollows(value, assemblies).isApart);
  if (apart.length === 0) return [];
  const told = apart.map((value) => {
    const [one, other] = assemblies.map(({ follows }) => followsWords[follows[value]]);
    return `\`${value}\` follows ${one} in \`after\` and ${other} in \`other_after\``;
  });
  return [
    {
      severity: 'warning',
      message: `The two assemblies do not agree: ${told.join('; ')}. A board may repeat what it read last, or a capture may be of another assembly.`,
    },
  ];
}

/** What is said to be followed, after "follows". */
const followsWords: Readonly<Record<Follows, string>> = {
  platters: 'the platters',
  board: 'the board',
  same_on_both: 'either',
  neither: 'neither',
  not_known: 'nobody knows what',
};

interface Joined {
  readonly follows: Follows;
  /** Whether the assemblies tell different things. */
  readonly isApart: boolean;
}

/** What a value follows by all assemblies that report it: a half that each of them allows. */
function joinedFollows(value: IdentityValue, assemblies: readonly Assembly[]): Joined {
  const told = assemblies
    .filter(({ capture }) => reportIn(value, capture) !== undefined)
    .map(({ follows }) => follows[value]);
  const [first = 'not_known', ...others] = told;
  const different = others.find((other) => other !== first);
  if (different === undefined) return { follows: first, isApart: false };
  if (told.includes('not_known')) return { follows: 'not_known', isApart: false };
  // A counter can be too close to both drives in one assembly and clear in the other.
  if (first === 'same_on_both' && different !== 'neither') return { follows: different, isApart: false };
  if (different === 'same_on_both' && first !== 'neither') return { follows: first, isApart: false };
  return { follows: told.includes('neither') ? 'neither' : 'not_known', isApart: true };
}
