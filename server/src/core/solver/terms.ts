/** A single value a slot may hold. Texts are compared as they are: whoever makes them folds them first. */
export type Value = string | number | boolean;

/** What slots of one sort may hold. Only slots of one sort can be equal. */
export interface Sort {
  readonly name: string;
  /**
   * `texts`: any text. `numbers`: any number between the bounds. `integers`: the whole ones. `days`: integers too, of which one
   * asks how far apart they are, never what single value they hold. A list: these values and no other.
   */
  readonly holds: 'texts' | 'numbers' | 'integers' | 'days' | readonly Value[];
  /** Least value of numbers, integers and days; absent: no bound. */
  readonly from?: number;
  /** Whether numbers come as near to `from` as one likes without reaching it. */
  readonly isFromOpen?: boolean;
  /** Greatest value. */
  readonly to?: number;
  /** Of days: where to begin looking for the first one that fits. */
  readonly usualFrom?: number;
}

/** An unknown: something that holds one value of its sort. Two slots of one name are the same slot. */
export interface Slot {
  readonly kind: 'slot';
  readonly name: string;
  readonly sort: Sort;
}

/** Something that holds a value: a slot, or the value itself. */
export type Term = Slot | { readonly kind: 'value'; readonly value: Value };

/** Values a slot may be asked to be among: any of a list, or a range whose ends count. */
export type ValueSet = { readonly anyOf: readonly Value[] } | { readonly from?: number; readonly to?: number };

/** Something that is so or is not, by name. */
export interface Flag {
  readonly op: 'flag';
  readonly name: string;
}

/** What can be demanded of slots. */
export type Constraint =
  | { readonly op: 'all' | 'any'; readonly parts: readonly Constraint[] }
  | { readonly op: 'not'; readonly part: Constraint }
  /** Two slots hold one value. */
  | { readonly op: 'equal'; readonly a: Slot; readonly b: Slot }
  /** A slot holds one of these values. */
  | { readonly op: 'in'; readonly slot: Slot; readonly set: ValueSet }
  /** A day lies at most `days` after another; of `b` undefined: at most `days` after day 0. */
  | { readonly op: 'at-most-after'; readonly a: Slot; readonly b: Slot | undefined; readonly days: number }
  | Flag
  /** No more than `most` of the parts hold. */
  | { readonly op: 'at-most'; readonly most: number; readonly parts: readonly Constraint[] };

/** A slot. */
export function slot(name: string, sort: Sort): Slot {
  return { kind: 'slot', name, sort };
}

/** A term that is known. */
export function known(value: Value): Term {
  return { kind: 'value', value };
}

/** Holds always. */
export const always: Constraint = { op: 'all', parts: [] };
/** Holds never. */
export const never: Constraint = { op: 'any', parts: [] };

/** All of these hold. */
export function all(...parts: readonly Constraint[]): Constraint {
  return { op: 'all', parts };
}

/** Any of these holds. */
export function any(...parts: readonly Constraint[]): Constraint {
  return { op: 'any', parts };
}

/** This does not hold. */
export function not(part: Constraint): Constraint {
  return part.op === 'not' ? part.part : { op: 'not', part };
}

/** Where the first holds, the second does. */
export function implies(first: Constraint, second: Constraint): Constraint {
  return any(not(first), second);
}

/** Something that is so or is not, by name. */
export function flag(name: string): Flag {
  return { op: 'flag', name };
}

/** No more than so many of these hold. */
export function atMost(most: number, parts: readonly Constraint[]): Constraint {
  return { op: 'at-most', most, parts };
}

/** Two terms hold one value. */
export function equal(a: Term, b: Term): Constraint {
  if (a.kind === 'value') return isIn(b, { anyOf: [a.value] });
  if (b.kind === 'value') return isIn(a, { anyOf: [b.value] });
  if (a.name === b.name) return always;
  if (a.sort.holds === 'days') return within(a, b, 0);
  return { op: 'equal', a, b };
}

/** A term holds one of these values. */
export function isIn(term: Term, set: ValueSet): Constraint {
  if (term.kind === 'value') return hasValue(set, term.value) ? always : never;
  if (term.sort.holds !== 'days') return { op: 'in', slot: term, set };
  if (!('anyOf' in set)) return between(term, set.from, set.to);
  return any(...set.anyOf.map((value) => between(term, Number(value), Number(value))));
}

/** Two days lie at most so many days apart. */
export function within(a: Term, b: Term, days: number): Constraint {
  if (a.kind === 'value') return b.kind === 'value' ? near(a.value, b.value, days) : within(b, a, days);
  if (b.kind === 'value') return between(a, Number(b.value) - days, Number(b.value) + days);
  if (a.name === b.name) return always;
  return all({ op: 'at-most-after', a, b, days }, { op: 'at-most-after', a: b, b: a, days });
}

/** Whether a set holds a value. */
export function hasValue(set: ValueSet, value: Value): boolean {
  if ('anyOf' in set) return set.anyOf.includes(value);
  if (typeof value !== 'number') return false;
  return (set.from ?? Number.NEGATIVE_INFINITY) <= value && value <= (set.to ?? Number.POSITIVE_INFINITY);
}

function near(a: Value, b: Value, days: number): Constraint {
  return Math.abs(Number(a) - Number(b)) <= days ? always : never;
}

function between(day: Slot, from: number | undefined, to: number | undefined): Constraint {
  const ends: Constraint[] = [];
  if (to !== undefined && to !== Number.POSITIVE_INFINITY) {
    ends.push({ op: 'at-most-after', a: day, b: undefined, days: to });
  }
  if (from !== undefined && from !== Number.NEGATIVE_INFINITY) {
    ends.push(not({ op: 'at-most-after', a: day, b: undefined, days: from - 1 }));
  }
  return all(...ends);
}
