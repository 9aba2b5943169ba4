import type { IdentityValue } from '../../../../schemas/gen/records.ts';
import { type Follows, followsOf } from '../captures/follows.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { OutcomeRecord } from '../model/record.ts';
import { type DriveContext, type PairContext, pairOf } from './drive-context.ts';
import { reportsOf } from './identity-rows.ts';
import { ownValueOf } from './own-value.ts';

/** What a value in an identity row of an outcome follows. */
export interface FollowedValue {
  readonly value: IdentityValue;
  readonly reported: string | number;
  /** Position of the row. */
  readonly position: number;
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
  const { patient, donor, identity } = outcome.data;
  if (identity === undefined || patient === donor) return [];
  const pair = pairOf(outcome, snapshot);
  return assembliesOf(outcome, pair).flatMap((assembly) =>
    [...identity.keys()].flatMap((position) => {
      const followed = followedAt(outcome, position, assembly);
      return followed && !restsOnFault(outcome, position, pair) ? [followed] : [];
    }),
  );
}

/** Whether every board kept the ROM it came with; else what comes with the platters may have come in the ROM that was moved along. */
export function didRomStay({ data: { rom, rom_from: from, donor } }: OutcomeRecord): boolean {
  const actions = typeof rom === 'string' ? [rom] : (rom ?? []);
  return (
    rom !== undefined &&
    actions.every((action) => action === 'left' || action === 'not_fitted') &&
    (from === undefined || from === donor)
  );
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

function followedAt({ data }: OutcomeRecord, position: number, assembly: Assembly): FollowedValue | undefined {
  const row = data.identity?.[position];
  const reported = row?.[assembly.column];
  if (row?.value === undefined || reported === undefined) return undefined;
  const ofPlatters = row[`${assembly.platters.side}_before`];
  const ofBoard = row[`${assembly.board.side}_before`];
  const follows = followsOf({ value: row.value, reported, ofPlatters, ofBoard });
  return { ...assembly, value: row.value, reported, position, follows };
}

/** Whether a value before the swap is not that of its drive, which was reported. */
function restsOnFault(outcome: OutcomeRecord, position: number, pair: PairContext): boolean {
  return reportsOf(outcome).some(
    (report) => report.path[1] === position && ownValueOf(report, pair, outcome)?.fits === false,
  );
}
