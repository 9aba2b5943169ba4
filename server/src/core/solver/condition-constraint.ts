import type { Accepts, Atom, FamilyKey, Formula, SideKey, SideName } from '../conditions/formula.ts';
import { parseDaySpan } from '../terms/calendar.ts';
import { splitRevision } from '../terms/revision-name.ts';
import { toValue } from './sorts.ts';
import { all, any, type Constraint, equal, isIn, never, not, type Term, type ValueSet, within } from './terms.ts';

/** What the keys of a swap are: slots, or values where they are known. */
export interface SwapTerms {
  /** `rev` is the revision's name alone. */
  readonly side: (side: SideName, key: SideKey) => Term;
  readonly family: (key: FamilyKey) => Term;
  /** That the patient's adaptives came along. */
  readonly romTravels: Constraint;
  /** That the donor's revision is claimed to work in place of the patient's, where both are of one board. */
  readonly isClaimed: Constraint;
}

/** What a condition demands of a swap. */
export function conditionConstraint(formula: Formula, terms: SwapTerms): Constraint {
  switch (formula.op) {
    case 'all':
    case 'any':
      return { op: formula.op, parts: formula.parts.map((part) => conditionConstraint(part, terms)) };
    case 'not':
      return not(conditionConstraint(formula.part, terms));
    case 'atom':
      return atomConstraint(formula.atom, terms);
  }
}

/** What one atom of a condition demands of a swap. */
export function atomConstraint(atom: Atom, terms: SwapTerms): Constraint {
  switch (atom.test) {
    case 'same':
      return isSame(atom.key, terms);
    case 'rom_travels':
      return terms.romTravels;
    case 'drop_in':
      return all(isSame('board', terms), any(isSame('rev', terms), terms.isClaimed));
    case 'made_within':
      return within(terms.side('patient', 'made'), terms.side('donor', 'made'), 7 * atom.weeks);
    case 'side':
      return sideAccepts(terms, atom.side, atom.key, atom.accepts);
    case 'family':
      return isIn(terms.family(atom.key), toSet(atom.accepts));
  }
}

/** That a drive was made in what an entry accepts. A bound that is no date can be met by none. */
export function madeAccepts(made: Term, accepts: Accepts): Constraint {
  if (!('anyOf' in accepts)) return isInSpan(made, accepts.from, accepts.to);
  return any(...accepts.anyOf.map((value) => isInSpan(made, value as string | number, value as string | number)));
}

function isInSpan(made: Term, from: string | number | undefined, to: string | number | undefined): Constraint {
  const first = from === undefined ? undefined : parseDaySpan(from);
  const last = to === undefined ? undefined : parseDaySpan(to);
  if ((from !== undefined && !first) || (to !== undefined && !last)) return never;
  return isIn(made, { ...(first ? { from: first.first } : {}), ...(last ? { to: last.last } : {}) });
}

/** Equal revisions are those of one board that have one name. */
function isSame(key: Extract<Atom, { test: 'same' }>['key'], terms: SwapTerms): Constraint {
  const same = equal(terms.side('patient', key), terms.side('donor', key));
  return key === 'rev' ? all(isSame('board', terms), same) : same;
}

function sideAccepts(terms: SwapTerms, side: SideName, key: SideKey, accepts: Accepts): Constraint {
  if (key === 'made') return madeAccepts(terms.side(side, 'made'), accepts);
  if (key === 'rev' && 'anyOf' in accepts) {
    return any(...accepts.anyOf.map((name) => isRevision(terms, side, String(name))));
  }
  return isIn(terms.side(side, key), toSet(accepts));
}

function isRevision(terms: SwapTerms, side: SideName, name: string): Constraint {
  const { board, rev } = splitRevision(name);
  return all(
    isIn(terms.side(side, 'board'), { anyOf: [toValue(board)] }),
    isIn(terms.side(side, 'rev'), { anyOf: [toValue(rev)] }),
  );
}

function toSet(accepts: Accepts): ValueSet {
  if ('anyOf' in accepts) return { anyOf: accepts.anyOf.map(toValue) };
  return {
    ...(accepts.from === undefined ? {} : { from: Number(accepts.from) }),
    ...(accepts.to === undefined ? {} : { to: Number(accepts.to) }),
  };
}
