import type { IdentityValue } from '../../../../schemas/gen/records.ts';
import { hoursBetween } from '../captures/assembly.ts';
import { type Follows, followsOf } from '../captures/follows.ts';
import { romActionsOf } from '../conditions/rom-travels.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { OutcomeRecord } from '../model/record.ts';
import type { Path } from '../syntax/tape.ts';
import { type Day, parseDate } from '../terms/calendar.ts';
import { type DriveContext, type PairContext, pairOf } from './drive-context.ts';
import type { Column, Report } from './identity-rows.ts';
import { allReportsOf } from './outcome-captures.ts';
import { ownValueOf } from './own-value.ts';

/** What a value that an assembly reported in an outcome follows. */
export interface FollowedValue {
  readonly value: IdentityValue;
  /** Where the assembly's value was reported. */
  readonly report: Report;
  readonly column: 'after' | 'other_after';
  readonly follows: Follows;
  /** The drive that gave the platters. Its family is the one that says what follows what. */
  readonly platters: Half;
  /** The drive that gave the board. */
  readonly board: Half;
}

/** A drive that gave half of an assembly. */
interface Half {
  readonly side: 'patient' | 'donor';
  readonly context: DriveContext;
}

/**
 * What the values in an outcome's identity rows follow, assembly by assembly. Left out are rows that a drive's own record contradicts, and
 * all where a bridge may have answered in its own name.
 */
export function followedIn(outcome: OutcomeRecord, snapshot: Snapshot): readonly FollowedValue[] {
  const { patient, donor } = outcome.data;
  if (patient === donor) return [];
  const rows = rowsOf(outcome, snapshot);
  if (rows.length === 0) return [];
  const pair = pairOf(outcome, snapshot);
  const sound = rows.filter((row) => !restsOnFault(row, pair, outcome));
  return assembliesOf(outcome, pair).flatMap((assembly) => sound.flatMap((row) => followedAt(row, assembly) ?? []));
}

/** What was reported of a value, by column. */
interface Row {
  readonly value: IdentityValue;
  readonly cells: Readonly<Partial<Record<Column, Report>>>;
}

/** The identity rows of an outcome, with what its captures add to them, and a row for each value that only captures report. */
function rowsOf(outcome: OutcomeRecord, snapshot: Snapshot): readonly Row[] {
  const rows = new Map<Path[number] | undefined, { value: IdentityValue; cells: Partial<Record<Column, Report>> }>();
  for (const report of allReportsOf(outcome, snapshot)) {
    const { value, column, captured, path } = report;
    const own = captured ? [...rows].filter(([, row]) => row.value === value).map(([key]) => key) : [path[1]];
    for (const key of own.length > 0 ? own : [value]) {
      const row = rows.get(key) ?? { value, cells: {} };
      row.cells[column] ??= report;
      rows.set(key, row);
    }
  }
  return [...rows.values()];
}

/** Whether every board kept the ROM it came with; else what comes with the platters may have come in the ROM that was moved along. */
export function didRomStay(outcome: OutcomeRecord): boolean {
  const { rom_from: from, donor } = outcome.data;
  const isLeft = romActionsOf(outcome)?.every((action) => action === 'left' || action === 'not_fitted') ?? false;
  return isLeft && (from === undefined || from === donor);
}

type Assembly = Pick<FollowedValue, 'column' | 'platters' | 'board'>;

function assembliesOf({ data }: OutcomeRecord, pair: PairContext): Assembly[] {
  if (!pair.patient || !pair.donor) return [];
  const patient: Half = { side: 'patient', context: pair.patient };
  const donor: Half = { side: 'donor', context: pair.donor };
  const both: Assembly[] = [
    { column: 'after', platters: patient, board: donor },
    { column: 'other_after', platters: donor, board: patient },
  ];
  // A bridge may answer in its own name, unless it is the drive's own.
  return both.filter(
    ({ platters }) => data.host?.port !== 'usb_bridge' || platters.context.family?.data.interface === 'usb',
  );
}

function followedAt({ value, cells }: Row, assembly: Assembly): FollowedValue | undefined {
  const report = cells[assembly.column];
  if (report === undefined) return undefined;
  const { reported } = report;
  const platters = cells[`${assembly.platters.side}_before`];
  const board = cells[`${assembly.board.side}_before`];
  const hoursSince = {
    platters: hoursBetween(takenOf(platters), takenOf(report)),
    board: hoursBetween(takenOf(board), takenOf(report)),
  };
  const trace = { value, reported, ofPlatters: platters?.reported, ofBoard: board?.reported, hoursSince };
  return { ...assembly, value, report, follows: followsOf(trace) };
}

/** The day of the capture that reported a value; rows have none. */
function takenOf(report: Report | undefined): Day | undefined {
  const taken = report?.captured?.capture.facts.taken;
  return taken === undefined ? undefined : parseDate(taken);
}

/** Whether a value before the swap is not that of its drive, which was reported. */
function restsOnFault({ cells }: Row, pair: PairContext, outcome: OutcomeRecord): boolean {
  return Object.values(cells).some((report) => ownValueOf(report, pair, outcome)?.fits === false);
}
