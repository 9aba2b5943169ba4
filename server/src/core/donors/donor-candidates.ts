import { evaluate } from '../conditions/evaluate.ts';
import type { Side } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type DriveRecord, hasUnusable, isRetracted } from '../model/record.ts';
import { remembered } from '../terms/remembered.ts';
import { plannedSwap } from './planned-swap.ts';
import type { RomPlan } from './rom-plan.ts';
import type { RulesInPlay } from './rules-in-play.ts';

/**
 * The drives and loose boards whose board could be lent to a patient, by id. A whole drive is one where it is marked as spare, a loose
 * board unless it is marked as not, and neither where its board is known to be faulty. It is of the patient's family, or has the
 * patient's own board, or one that is said to be used in that family, or a law promises that it works.
 */
export function donorCandidates(
  patient: Side,
  { plan, rules }: { readonly plan: RomPlan; readonly rules: RulesInPlay },
  snapshot: Snapshot,
): readonly DriveRecord[] {
  const { family, board } = patient.drive.data;
  const promises = rules.promises.filter(({ inScope }) => inScope === true);
  const isRelated = (drive: DriveRecord): boolean => {
    if (family !== undefined && drive.data.family === family) return true;
    if (board?.id !== undefined && drive.data.board?.id === board.id) return true;
    const own = snapshot.find('board', drive.data.board?.id);
    if (family !== undefined && own && !isRetracted(own) && own.data.families?.includes(family)) return true;
    if (promises.length === 0) return false;
    const swap = plannedSwap(patient, drive, plan, snapshot);
    return promises.some(({ rule }) => evaluate(rule.when, swap) === true);
  };
  return lentDrives(snapshot).filter((drive) => drive !== patient.drive && isRelated(drive));
}

/** The drives whose board could be lent to whomsoever, by id. Asked of one base for one patient after the other. */
const lentDrives = remembered((snapshot: Snapshot) => snapshot.records('drive').filter(isLent));

/** What cannot be read is not lent: it may say that the board is faulty, or wanted elsewhere. */
function isLent(drive: DriveRecord): boolean {
  const { parts = 'both', shelf, condition } = drive.data;
  if (isRetracted(drive) || parts === 'hda_only' || condition?.board === 'faulty') return false;
  if (['parts', 'shelf', 'condition'].some((key) => hasUnusable(drive, key))) return false;
  return parts === 'board_only' ? shelf?.spare !== false : shelf?.spare === true;
}
