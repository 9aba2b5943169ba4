/**
 * What limits the unrecorded values of recorded swaps besides what laws demand: what records say of recorded revisions, for drives whose
 * revision could turn out to be one of them. Drives of recorded revisions have their values already.
 */
import { partOfRevision, type RevisionKey, revisionKeys } from '../conditions/cell.ts';
import { dropInClosure } from '../conditions/evaluate.ts';
import type { Side } from '../conditions/swap.ts';
import { type BoardRecord, hasUnusable, isRetracted } from '../model/record.ts';
import { type OpenClaim, type OpenValue, type Share, termOfSide } from '../solver/recorded-swap.ts';
import { isAlways, simplify } from '../solver/simplify.ts';
import { toValue } from '../solver/sorts.ts';
import { all, type Constraint, equal, implies, isIn, known, not, type Term } from '../solver/terms.ts';
import { foldText } from '../text/fold.ts';
import { revisionsOf } from './possible-swap.ts';

/** The name under which the boards of one revision share a part. */
export function shareName({ board, rev, key }: Share): string {
  return `board/${board}/${foldText(rev)} ${key}`;
}

/** Whether the value follows from the drive's revision, should that be inferred. A marking of its own that cannot be read does not. */
export function mayBeInferred({ slot, side }: OpenValue): boolean {
  const key = partOf(slot.name);
  return key !== undefined && side !== undefined && !side.revision && !hasUnusable(side.drive, 'board', key);
}

/** What is known of these values and claims, where the drives may have any of these boards. What holds anyway is left out. */
export function jointBackground(
  open: Iterable<OpenValue>,
  claims: Iterable<OpenClaim>,
  boards: readonly BoardRecord[],
): Constraint[] {
  const found: Constraint[] = [];
  for (const value of open) {
    found.push(value.limits);
    if (mayBeInferred(value)) found.push(...boards.map((board) => inferredPart(value, board)));
  }
  for (const claim of claims) found.push(...boards.map((board) => inferredClaim(claim, board)));
  return found.map(simplify).filter((constraint) => !isAlways(constraint));
}

function partOf(slotName: string): RevisionKey | undefined {
  return revisionKeys.find((key) => slotName.endsWith(` ${key}`));
}

function inferredPart({ slot, side }: OpenValue, board: BoardRecord): Constraint {
  const key = partOf(slot.name);
  if (!key || !side) return all();
  return all(
    ...revisionsOf(board).map(({ data, name }) => {
      const choices = partOfRevision(data, key);
      return choices ? implies(isAt(side, board, name), isIn(slot, { anyOf: choices.map(toValue) })) : all();
    }),
  );
}

/** A recorded revision works in place of those its board claims, and of no other. */
function inferredClaim({ flag, patient, donor }: OpenClaim, board: BoardRecord): Constraint {
  const isOfBoard = all(isOf(patient, board), isOf(donor, board));
  if (isRetracted(board)) return implies(isOf(donor, board), not(flag));
  return all(
    ...revisionsOf(board).map(({ name }) => {
      const isListed = isIn(termOfSide(patient, 'rev'), { anyOf: [...dropInClosure(board, name)] });
      const isSaid = hasUnusable(board, 'revisions') ? all() : implies(flag, isListed);
      return implies(all(isOfBoard, isAt(donor, board, name)), all(implies(isListed, flag), isSaid));
    }),
  );
}

function isAt(side: Side, board: BoardRecord, rev: string): Constraint {
  return all(isOf(side, board), equal(termOfSide(side, 'rev'), known(rev)));
}

function isOf(side: Side, board: BoardRecord): Constraint {
  const term: Term = termOfSide(side, 'board');
  return equal(term, known(toValue(board.id)));
}
