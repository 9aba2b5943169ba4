/**
 * The drives that swaps may be tried on to learn something, and why the others of a shelf may not.
 * Laws (test/property/trial-shelf.property.test.ts):
 * - no drive is offered whose data is wanted or not known, whose platters or heads are in doubt, or that is not spare
 * - every spare drive is offered or left out for a reason
 */
import { type Side, sideOf } from '../conditions/swap.ts';
import { examinePatient } from '../donors/examine-patient.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type DriveRecord, hasUnusable, isRetracted } from '../model/record.ts';
import { doubtsAbout } from '../verdicts/part-doubts.ts';

/** Why a spare drive is not tried, the gravest first. */
const unfitReasons = ['data', 'media', 'board', 'half', 'not_measured', 'doubted'] as const;

/** A reason not to try a spare drive. */
export type Unfit = (typeof unfitReasons)[number];

/** What a shelf offers for trials with patients of one family; each list by id. */
export interface TrialShelf {
  /** Drives of the family whose platters could be run with another board. */
  readonly patients: readonly Side[];
  /** Drives whose board could be lent to them, those of other families with one of its boards among them. */
  readonly donors: readonly Side[];
  /** Ids of the other spare drives and loose boards, by the first reason that applies. */
  readonly leftOut: ReadonlyMap<Unfit, readonly string[]>;
}

/** The shelf for a family. */
export function trialShelf(family: string, snapshot: Snapshot): TrialShelf {
  const boards = boardsOf(family, snapshot);
  const spares = snapshot
    .records('drive')
    .filter((drive) => isSpare(drive) && (drive.data.family === family || boards.has(drive.data.board?.id ?? '')));
  const leftOut = new Map<Unfit, string[]>();
  const donors: Side[] = [];
  for (const drive of spares) {
    const reason = unfitReason(drive, snapshot);
    if (reason === undefined) donors.push(sideOf(drive, snapshot));
    else leftOut.set(reason, [...(leftOut.get(reason) ?? []), drive.id]);
  }
  const ordered = unfitReasons.flatMap((reason) => {
    const ids = leftOut.get(reason);
    return ids ? [[reason, ids] as const] : [];
  });
  return {
    patients: donors.filter(({ drive }) => drive.data.family === family),
    donors,
    leftOut: new Map(ordered),
  };
}

/** The boards that drives of a family carry, or that are said to be used in it. */
function boardsOf(family: string, snapshot: Snapshot): ReadonlySet<string> {
  const carried = snapshot
    .records('drive')
    .flatMap(({ data }) => (data.family === family ? (data.board?.id ?? []) : []));
  const said = snapshot
    .records('board')
    .filter((board) => !isRetracted(board) && board.data.families?.includes(family))
    .map(({ id }) => id);
  return new Set([...carried, ...said]);
}

function isSpare(drive: DriveRecord): boolean {
  return !isRetracted(drive) && drive.data.shelf?.spare === true;
}

/**
 * Why a trial with a drive is out of the question or would prove nothing; undefined where it may be tried. What cannot be read is not
 * known. Source: common practice, no source: a trial may cost both drives, and a failure proves something of sound ones only.
 */
function unfitReason(drive: DriveRecord, snapshot: Snapshot): Unfit | undefined {
  const { data, condition, parts = 'both' } = drive.data;
  if (data !== 'test' && data !== 'none') return 'data';
  if (condition?.media !== 'good') return 'media';
  if (condition.board !== 'good') return 'board';
  if (parts !== 'both' || hasUnusable(drive, 'parts')) return 'half';
  const { isMeasuredFirst, inside } = examinePatient(sideOf(drive, snapshot), snapshot);
  if (isMeasuredFirst) return 'not_measured';
  return inside.length > 0 || doubtsAbout(drive, condition.as_of, snapshot).length > 0 ? 'doubted' : undefined;
}
