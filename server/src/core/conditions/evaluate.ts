/**
 * What a condition says of a recorded swap, in three values.
 * Laws (test/property/conditions.property.test.ts):
 * - learning a value never turns true into false
 * - same and different are opposites
 * - drop-in follows the claims and nothing else
 */

import type { ComparableKey } from '../../../../schemas/gen/key-table.ts';
import { type BoardRecord, hasUnusable, isRetracted } from '../model/record.ts';
import { type DaySpan, parseDaySpan } from '../terms/calendar.ts';
import { splitRevision } from '../terms/revision-name.ts';
import { foldText } from '../text/fold.ts';
import { type Cell, cellOf, familyCellOf, hoursCellOf } from './cell.ts';
import type { Accepts, Atom, Formula, Scalar, SideKey, SideName } from './formula.ts';
import { romTravels } from './rom-travels.ts';
import { findRevision, type Side, type Swap } from './swap.ts';
import { andAll, not, orAny, type Truth } from './truth.ts';

/** Whether a condition holds on a swap; undefined where what is recorded does not decide it. */
export function evaluate(formula: Formula, swap: Swap): Truth {
  switch (formula.op) {
    case 'all':
      return allHold(formula.parts, swap);
    case 'any':
      return anyHolds(formula.parts, swap);
    case 'not':
      return not(evaluate(formula.part, swap));
    case 'atom':
      return evaluateAtom(formula.atom, swap);
  }
}

/** Whether one atom holds on a swap. */
export function evaluateAtom(atom: Atom, swap: Swap): Truth {
  switch (atom.test) {
    case 'same':
      return isSame(swap, atom.key);
    case 'rom_travels':
      return romTravels(swap);
    case 'drop_in':
      return isDropIn(swap);
    case 'made_within':
      return isMadeWithin(swap, atom.weeks);
    case 'side':
      return sideAccepts(swap, atom.side, atom.key, atom.accepts);
    case 'family':
      return cellAccepts(familyCellOf(swap, atom.key), atom.accepts);
  }
}

/** Whether both sides hold the same value of a key. */
function isSame(swap: Swap, key: ComparableKey): Truth {
  const same = isSameCell(cellOf(swap.patient, key), cellOf(swap.donor, key));
  return key === 'rev' && same !== false ? andAll([same, isSame(swap, 'board')]) : same;
}

/**
 * Whether a value lies in what an entry accepts. A value known only to lie in a list is decided where every choice agrees.
 */
function cellAccepts(cell: Cell, accepts: Accepts): Truth {
  if (cell.state === 'known') return acceptsValue(cell.value, accepts);
  if (!cell.within) return undefined;
  const verdicts = cell.within.map((choice) => acceptsValue(choice, accepts));
  if (verdicts.every((verdict) => verdict === true)) return true;
  return verdicts.every((verdict) => verdict === false) ? false : undefined;
}

/** The days between which a drive was made, or undefined. */
export function madeSpan(side: Side): DaySpan | undefined {
  return side.drive.data.made === undefined ? undefined : parseDaySpan(side.drive.data.made);
}

/** Whether a span of days lies inside what an entry accepts; a partial overlap is not known. */
export function spanAccepts(span: DaySpan | undefined, accepts: Accepts): Truth {
  if (!span) return undefined;
  if ('anyOf' in accepts)
    return orAny(accepts.anyOf.map((value) => spanWithin(span, parseDaySpan(value as string | number))));
  const first = accepts.from === undefined ? Number.NEGATIVE_INFINITY : parseDaySpan(accepts.from)?.first;
  const last = accepts.to === undefined ? Number.POSITIVE_INFINITY : parseDaySpan(accepts.to)?.last;
  return first === undefined || last === undefined ? undefined : spanWithin(span, { first, last });
}

/** The revisions a revision works in place of, itself included, folded, as its board's claims say, step by step. */
export function dropInClosure(board: BoardRecord, rev: string): ReadonlySet<string> {
  const reached = new Set<string>();
  const waiting = [rev];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    if (reached.has(foldText(next))) continue;
    reached.add(foldText(next));
    for (const claimed of findRevision(board, next)?.drop_in_for ?? []) waiting.push(claimed);
  }
  return reached;
}

/** As `andAll`; what comes after the part that decides is not looked at. */
function allHold(parts: readonly Formula[], swap: Swap): Truth {
  let isKnown = true;
  for (const part of parts) {
    const truth = evaluate(part, swap);
    if (truth === false) return false;
    isKnown &&= truth !== undefined;
  }
  return isKnown ? true : undefined;
}

/** As `orAny`, likewise. */
function anyHolds(parts: readonly Formula[], swap: Swap): Truth {
  let isKnown = true;
  for (const part of parts) {
    const truth = evaluate(part, swap);
    if (truth === true) return true;
    isKnown &&= truth !== undefined;
  }
  return isKnown ? false : undefined;
}

function isSameCell(a: Cell, b: Cell): Truth {
  if (a.state === 'known' && b.state === 'known') return isSameValue(a.value, b.value);
  const listA = choicesOf(a);
  const listB = choicesOf(b);
  const canMeet = !listA || !listB || listA.some((one) => listB.some((other) => isSameValue(one, other)));
  // Two sides that inherit one open slot are not known to be equal: that parts of one revision are alike is an assumption.
  return canMeet ? undefined : false;
}

function choicesOf(cell: Cell): readonly Scalar[] | undefined {
  return cell.state === 'known' ? [cell.value] : cell.within;
}

function isSameValue(a: Scalar, b: Scalar): boolean {
  if (a === b) return true;
  return typeof a === 'string' && typeof b === 'string' && foldText(a) === foldText(b);
}

function acceptsValue(value: Scalar, accepts: Accepts): boolean {
  if ('anyOf' in accepts) return accepts.anyOf.some((accepted) => isSameValue(value, accepted));
  if (typeof value !== 'number') return false;
  const from = accepts.from === undefined ? Number.NEGATIVE_INFINITY : Number(accepts.from);
  const to = accepts.to === undefined ? Number.POSITIVE_INFINITY : Number(accepts.to);
  return from <= value && value <= to;
}

function sideAccepts(swap: Swap, side: SideName, key: SideKey, accepts: Accepts): Truth {
  if (key === 'made') return spanAccepts(madeSpan(swap[side]), accepts);
  if (key === 'power_on_hours') return cellAccepts(hoursCellOf(swap, side), accepts);
  if (key === 'rev' && 'anyOf' in accepts)
    return orAny(accepts.anyOf.map((name) => isRevision(swap[side], String(name))));
  return cellAccepts(cellOf(swap[side], key), accepts);
}

function isRevision(side: Side, name: string): Truth {
  const { board, rev } = splitRevision(name);
  return andAll([
    cellAccepts(cellOf(side, 'board'), { anyOf: [board] }),
    cellAccepts(cellOf(side, 'rev'), { anyOf: [rev] }),
  ]);
}

function isDropIn(swap: Swap): Truth {
  const isOfBoard = isSame(swap, 'board');
  // What boards of other revisions are claimed to do takes long to follow.
  return isOfBoard === false ? false : andAll([isOfBoard, orAny([isSame(swap, 'rev'), isClaimed(swap)])]);
}

/** Whether the donor's revision is claimed to work in place of the patient's. What is not claimed is false. */
export function isClaimed({ patient, donor }: Swap): Truth {
  const wanted = patient.drive.data.board?.rev;
  if (wanted === undefined || !donor.board || donor.revision?.rev === undefined) return undefined;
  if (isRetracted(donor.board)) return false;
  if (dropInClosure(donor.board, donor.revision.rev).has(foldText(wanted))) return true;
  return hasUnusable(donor.board, 'revisions') ? undefined : false;
}

function isMadeWithin(swap: Swap, weeks: number): Truth {
  const a = madeSpan(swap.patient);
  const b = madeSpan(swap.donor);
  if (!a || !b) return undefined;
  const farthest = Math.max(a.last - b.first, b.last - a.first);
  const nearest = Math.max(0, a.first - b.last, b.first - a.last);
  if (farthest <= 7 * weeks) return true;
  return nearest > 7 * weeks ? false : undefined;
}

function spanWithin(span: DaySpan, wanted: DaySpan | undefined): Truth {
  if (!wanted) return undefined;
  if (wanted.first <= span.first && span.last <= wanted.last) return true;
  return span.last < wanted.first || wanted.last < span.first ? false : undefined;
}
