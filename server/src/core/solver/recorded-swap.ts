/**
 * A recorded swap as terms: what is recorded is a value, what is not a slot of its owner.
 * Laws (test/property/recorded-swap.property.test.ts):
 * - where what is recorded decides a condition, the solver decides it alike
 */
import type { ComparableKey } from '../../../../schemas/gen/key-table.ts';
import { type Cell, cellOf, familyCellOf, hoursCellOf } from '../conditions/cell.ts';
import { isClaimed, madeSpan } from '../conditions/evaluate.ts';
import type { FamilyKey, SideKey, SideName } from '../conditions/formula.ts';
import { type StoredIn, travelsWhere } from '../conditions/rom-travels.ts';
import type { Side, Swap } from '../conditions/swap.ts';
import type { Truth } from '../conditions/truth.ts';
import type { SwapTerms } from './condition-constraint.ts';
import { sortOfFamily, sortOfSide, toValue } from './sorts.ts';
import {
  all,
  always,
  any,
  type Constraint,
  equal,
  type Flag,
  flag,
  isIn,
  known,
  never,
  type Slot,
  slot,
  type Term,
} from './terms.ts';

/** A value that is not recorded, or not to the day. */
export interface OpenValue {
  /** Named `kind/id key` for its owner, so that two swaps share what they have in common. */
  readonly slot: Slot;
  /** What is known of it by itself: a list of alternatives, a span of days. */
  readonly limits: Constraint;
  /** The drive it belongs to; undefined for families and outcomes. */
  readonly side: Side | undefined;
  /** The recorded revision that the value is had by: its boards may all have the same. */
  readonly share: Share | undefined;
}

/** A part that a recorded revision does not say. */
export interface Share {
  /** Id of the board. */
  readonly board: string;
  /** Name of the revision, as its board writes it. */
  readonly rev: string;
  readonly key: string;
}

/** A claim that cannot be looked up, because a revision is not known. */
export interface OpenClaim {
  readonly flag: Flag;
  readonly patient: Side;
  readonly donor: Side;
}

/** A recorded swap as the solver sees it. What is open among the terms asked for is noted. */
export class RecordedSwap implements SwapTerms {
  /** By the slot's name. */
  readonly open = new Map<string, OpenValue>();
  /** By the flag's name. */
  readonly claims = new Map<string, OpenClaim>();

  constructor(private readonly swap: Swap) {}

  readonly side = (side: SideName, key: SideKey): Term => {
    if (key === 'power_on_hours') return this.note(openHours(this.swap, side));
    return this.note(openOfSide(this.swap[side], key));
  };

  readonly family = (key: FamilyKey): Term => {
    const cell = familyCellOf(this.swap, key);
    return this.note(openCell(cell, undefined, (name) => slot(name, sortOfFamily(key))));
  };

  /** What was done about the ROM says for each place whether the adaptives travelled, or leaves it open. */
  get romTravels(): Constraint {
    const storedIn = this.family('adaptives');
    const places: readonly StoredIn[] = ['rom_chip', 'controller', 'platters'];
    return any(
      ...places.map((place) =>
        all(
          equal(storedIn, known(place)),
          toConstraint(travelsWhere(this.swap, place), `outcome/${this.swap.outcome.id} moved what is in ${place}`),
        ),
      ),
    );
  }

  get isClaimed(): Constraint {
    const truth = isClaimed(this.swap);
    const { patient, donor } = this.swap;
    const name = `drive/${donor.drive.id} stands in for drive/${patient.drive.id}`;
    if (truth === undefined) this.claims.set(name, { flag: flag(name), patient, donor });
    return toConstraint(truth, name);
  }

  private note(value: OpenValue | Term): Term {
    if ('kind' in value) return value;
    this.open.set(value.slot.name, value);
    return value.slot;
  }
}

/** What a key of a drive holds, as a term. */
export function termOfSide(side: Side, key: ComparableKey): Term {
  const value = openOfSide(side, key);
  return 'kind' in value ? value : value.slot;
}

/** Every drive has slots of its own, also for parts it has by its revision: that those hold one value is an assumption. */
function openOfSide(side: Side, key: Exclude<SideKey, 'power_on_hours'>): OpenValue | Term {
  if (key === 'made') return openMade(side);
  return openCell(cellOf(side, key), side, (name) => slot(name, sortOfSide(key)));
}

function openHours(swap: Swap, side: SideName): OpenValue | Term {
  return openCell(hoursCellOf(swap, side), undefined, (name) => slot(name, sortOfSide('power_on_hours')));
}

function openMade(side: Side): OpenValue | Term {
  const span = madeSpan(side);
  if (span && span.first === span.last) return known(span.first);
  const made = slot(`drive/${side.drive.id} made`, sortOfSide('made'));
  const limits = span ? isIn(made, { from: span.first, to: span.last }) : always;
  return { slot: made, limits, side, share: undefined };
}

function openCell(cell: Cell, side: Side | undefined, toSlot: (name: string) => Slot): OpenValue | Term {
  if (cell.state === 'known') return known(toValue(cell.value));
  const { owner, key } = cell.slot;
  const own = toSlot(owner.kind === 'revision' ? `drive/${side?.drive.id} ${key}` : `${owner.kind}/${owner.id} ${key}`);
  // A list all of whose entries cannot be read limits nothing.
  const limits = cell.within && cell.within.length > 0 ? isIn(own, { anyOf: cell.within.map(toValue) }) : always;
  const share =
    owner.kind === 'revision' ? { board: owner.board, rev: side?.revision?.rev ?? owner.rev, key } : undefined;
  return { slot: own, limits, side, share };
}

function toConstraint(truth: Truth, name: string): Constraint {
  if (truth === undefined) return flag(name);
  return truth ? always : never;
}
