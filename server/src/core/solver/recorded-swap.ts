/**
 * A recorded swap as terms: what is recorded is a value, what is not a slot of its owner.
 * Laws (test/property/recorded-swap.property.test.ts):
 * - where what is recorded decides a condition, the solver decides it alike
 */
import { type Cell, cellOf, familyCellOf, hoursCellOf } from '../conditions/cell.ts';
import { isClaimed, madeSpan } from '../conditions/evaluate.ts';
import type { FamilyKey, SideKey, SideName } from '../conditions/formula.ts';
import { type StoredIn, travelsWhere } from '../conditions/rom-travels.ts';
import type { Swap } from '../conditions/swap.ts';
import type { Truth } from '../conditions/truth.ts';
import type { SwapTerms } from './condition-constraint.ts';
import { sortOfFamily, sortOfSide, toValue } from './sorts.ts';
import { all, always, any, type Constraint, equal, flag, isIn, known, never, slot, type Term } from './terms.ts';

/** The terms of a recorded swap, and what is known of its slots besides. */
export interface RecordedSwap {
  readonly terms: SwapTerms;
  readonly background: Constraint;
}

const partKeys = ['controller', 'motor_driver'] as const;

/** A recorded swap as the solver sees it. Slots are named for their owners, so that two swaps share what they have in common. */
export function recordedSwap(swap: Swap): RecordedSwap {
  const sides = ['patient', 'donor'] as const;
  return {
    terms: {
      side: (side, key) => sideTerm(swap, side, key),
      family: (key) => familyTerm(swap, key),
      romTravels: romConstraint(swap),
      isClaimed: toConstraint(isClaimed(swap), `${swap.donor.drive.id} stands in for ${swap.patient.drive.id}`),
    },
    background: all(
      ...sides.flatMap((side) => partKeys.map((key) => listConstraint(swap, side, key))),
      ...sides.map((side) => madeConstraint(swap, side)),
    ),
  };
}

function sideTerm(swap: Swap, side: SideName, key: SideKey): Term {
  if (key === 'made') return slot(`drive/${swap[side].drive.id} made`, sortOfSide(key));
  return cellTerm(cellFor(swap, side, key), (name) => slot(name, sortOfSide(key)));
}

function cellFor(swap: Swap, side: SideName, key: Exclude<SideKey, 'made'>): Cell {
  return key === 'power_on_hours' ? hoursCellOf(swap, side) : cellOf(swap[side], key);
}

function familyTerm(swap: Swap, key: FamilyKey): Term {
  return cellTerm(familyCellOf(swap, key), (name) => slot(name, sortOfFamily(key)));
}

function cellTerm(cell: Cell, toSlot: (name: string) => Term): Term {
  if (cell.state === 'known') return known(toValue(cell.value));
  const { owner, key } = cell.slot;
  return toSlot(
    `${owner.kind === 'revision' ? `board/${owner.board}/${owner.rev}` : `${owner.kind}/${owner.id}`} ${key}`,
  );
}

/** That an unrecorded part is one of those its revision lists. */
function listConstraint(swap: Swap, side: SideName, key: (typeof partKeys)[number]): Constraint {
  const cell = cellOf(swap[side], key);
  if (cell.state === 'known' || !cell.within) return always;
  return isIn(sideTerm(swap, side, key), { anyOf: cell.within.map(toValue) });
}

function madeConstraint(swap: Swap, side: SideName): Constraint {
  const span = madeSpan(swap[side]);
  return span ? isIn(sideTerm(swap, side, 'made'), { from: span.first, to: span.last }) : always;
}

/** What was done about the ROM says for each place whether the adaptives travelled, or leaves it open. */
function romConstraint(swap: Swap): Constraint {
  const storedIn = familyTerm(swap, 'adaptives');
  const places: readonly StoredIn[] = ['rom_chip', 'controller', 'platters'];
  return any(
    ...places.map((place) =>
      all(
        equal(storedIn, known(place)),
        toConstraint(travelsWhere(swap, place), `outcome/${swap.outcome.id} moved what is in ${place}`),
      ),
    ),
  );
}

function toConstraint(truth: Truth, name: string): Constraint {
  if (truth === undefined) return flag(name);
  return truth ? always : never;
}
