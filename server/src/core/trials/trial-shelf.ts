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
import { addTo } from '../terms/grouped.ts';
import { remembered } from '../terms/remembered.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
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
  const { byFamily, byBoard, boards } = sparesIn(snapshot);
  const related = [...(boards.get(family) ?? [])].flatMap((board) => byBoard.get(board) ?? []);
  const spares = [...new Set([...(byFamily.get(family) ?? []), ...related])].sort((a, b) => byCodeUnits(a.id, b.id));
  const leftOut = new Map<Unfit, string[]>();
  const donors: Side[] = [];
  for (const drive of spares) {
    const reason = unfitReason(drive, snapshot);
    if (reason === undefined) donors.push(sideOf(drive, snapshot));
    else addTo(leftOut, reason, drive.id);
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

/** Spare drives by family and by board, and the boards that drives of a family carry or that are said to be used in it. */
interface Spares {
  readonly byFamily: ReadonlyMap<string, readonly DriveRecord[]>;
  readonly byBoard: ReadonlyMap<string, readonly DriveRecord[]>;
  readonly boards: ReadonlyMap<string, ReadonlySet<string>>;
}

/** A report asks for every family of a base in turn. */
const sparesIn = remembered((snapshot: Snapshot): Spares => {
  const byFamily = new Map<string, DriveRecord[]>();
  const byBoard = new Map<string, DriveRecord[]>();
  const boards = new Map<string, Set<string>>();
  const add = (lists: Map<string, DriveRecord[]>, name: string | undefined, drive: DriveRecord): void => {
    if (name !== undefined) addTo(lists, name, drive);
  };
  const use = (family: string | undefined, board: string | undefined): void => {
    if (family !== undefined && board !== undefined) boards.set(family, (boards.get(family) ?? new Set()).add(board));
  };
  for (const drive of snapshot.records('drive')) {
    const { family, board } = drive.data;
    use(family, board?.id);
    if (!isSpare(drive)) continue;
    add(byFamily, family, drive);
    add(byBoard, board?.id, drive);
  }
  for (const board of snapshot.records('board')) {
    if (!isRetracted(board)) for (const family of board.data.families ?? []) use(family, board.id);
  }
  return { byFamily, byBoard, boards };
});

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
