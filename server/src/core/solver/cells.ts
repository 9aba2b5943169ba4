import { hasValue, type Sort, type Value, type ValueSet } from './terms.ts';

/** Values that no constraint tells apart. */
interface Cell {
  /** How many values it holds; infinite where there is always another one. */
  readonly capacity: number;
  /** Its value of that number, counted from 0. */
  readonly value: (position: number) => Value;
  readonly has: (set: ValueSet) => boolean;
}

/**
 * The values of a sort, divided into cells by the constants and ends of ranges that constraints name. A set of values is then a
 * set of cells, written as the bits of one number.
 */
export class Cells {
  readonly cells: readonly Cell[];
  /** Every cell. */
  readonly full: bigint;
  /** The cells in which there is always another value. */
  private readonly endless: bigint;
  private readonly capacities = new Map<bigint, number>();
  private readonly points = new Map<Value, bigint>();

  /** `slots` is how many slots the sort has: a finite cell with fewer values than that is split into single ones. */
  constructor(sort: Sort, sets: readonly ValueSet[], slots: number) {
    this.cells =
      typeof sort.holds !== 'string'
        ? sort.holds.map(point)
        : sort.holds === 'texts'
          ? textCells(sets)
          : numberCells(sort, sets, slots);
    this.full = (1n << BigInt(this.cells.length)) - 1n;
    let endless = 0n;
    for (const [position, cell] of this.cells.entries()) {
      if (cell.capacity === Infinity) endless |= 1n << BigInt(position);
      else if (cell.capacity === 1) this.points.set(cell.value(0), 1n << BigInt(position));
    }
    this.endless = endless;
  }

  /** The cells a set consists of. */
  maskOf(set: ValueSet): bigint {
    let mask = 0n;
    if ('anyOf' in set) {
      // Cells are made so that each value of a list is one by itself.
      for (const value of set.anyOf) mask |= this.points.get(value) ?? 0n;
      return mask;
    }
    for (const [position, cell] of this.cells.entries()) if (cell.has(set)) mask |= 1n << BigInt(position);
    return mask;
  }

  /** How many values these cells hold together. */
  capacityOf(mask: bigint): number {
    if ((mask & this.endless) !== 0n) return Infinity;
    const known = this.capacities.get(mask);
    if (known !== undefined) return known;
    let capacity = 0;
    for (const [position, cell] of this.cells.entries()) {
      if ((mask >> BigInt(position)) & 1n) capacity += cell.capacity;
    }
    this.capacities.set(mask, capacity);
    return capacity;
  }

  /** The single cells of a set, each as a set. */
  singles(mask: bigint): bigint[] {
    return this.cells.flatMap((_, position) => ((mask >> BigInt(position)) & 1n ? [1n << BigInt(position)] : []));
  }

  /** The first value in these cells that is not taken, or undefined. */
  pick(mask: bigint, taken: ReadonlySet<Value>): Value | undefined {
    for (const [position, cell] of this.cells.entries()) {
      if (((mask >> BigInt(position)) & 1n) === 0n) continue;
      for (let number = 0; number < cell.capacity && number <= taken.size; number++) {
        const value = cell.value(number);
        if (!taken.has(value)) return value;
      }
    }
    return undefined;
  }
}

function point(value: Value): Cell {
  return { capacity: 1, value: () => value, has: (set) => hasValue(set, value) };
}

/** Texts that nothing names: there is always another one. */
function textCells(sets: readonly ValueSet[]): Cell[] {
  const named = [...new Set(sets.flatMap((set) => ('anyOf' in set ? set.anyOf : [])))]
    .filter((value) => typeof value === 'string')
    .sort();
  const isNamed = new Set<Value>(named);
  const fresh: string[] = [];
  const value = (position: number): string => {
    for (let number = fresh.length + 1; fresh.length <= position; number++) {
      const text = `new-${number}`;
      if (!isNamed.has(text) && !fresh.includes(text)) fresh.push(text);
    }
    return fresh[position] ?? '';
  };
  return [...named.map(point), { capacity: Infinity, value, has: () => false }];
}

/** Single values at every constant and end, and what lies between them. */
function numberCells(sort: Sort, sets: readonly ValueSet[], slots: number): Cell[] {
  const isWhole = sort.holds !== 'numbers';
  const { from = -Infinity, to = Infinity } = sort;
  const isInside = (value: number): boolean =>
    Number.isFinite(value) &&
    (sort.isFromOpen ? value > from : value >= from) &&
    value <= to &&
    (!isWhole || Number.isInteger(value));
  const ends = sets.flatMap((set) => ('anyOf' in set ? set.anyOf.map(Number) : endsOf(set, isWhole)));
  const bounds = [...(sort.isFromOpen ? [] : [from]), to];
  const points = [...new Set([...ends, ...bounds].filter(isInside))].sort((a, b) => a - b);
  const cells: Cell[] = [];
  let below = from;
  for (const value of points) {
    cells.push(...gap(below, value, isWhole, slots), point(value));
    below = value;
  }
  return below < to ? [...cells, ...gap(below, to, isWhole, slots)] : cells;
}

function endsOf(set: { readonly from?: number; readonly to?: number }, isWhole: boolean): number[] {
  const { from = -Infinity, to = Infinity } = set;
  return isWhole ? [Math.ceil(from), Math.floor(to)] : [from, to];
}

/** What lies strictly between two values. */
function gap(low: number, high: number, isWhole: boolean, slots: number): Cell[] {
  if (!(low < high)) return [];
  const capacity = isWhole ? high - low - 1 : Infinity;
  if (capacity <= 0) return [];
  const value = (position: number): number => insideGap(low, high, isWhole, position);
  if (capacity < slots) return Array.from({ length: capacity }, (_, position) => point(value(position)));
  return [{ capacity, value, has: (set) => hasValue(set, value(0)) }];
}

function insideGap(low: number, high: number, isWhole: boolean, position: number): number {
  if (low !== -Infinity && (isWhole || high === Infinity)) return low + 1 + position;
  if (high !== Infinity && low === -Infinity) return high - 1 - position;
  if (low === -Infinity) return position;
  // Halves, quarters and so on of the way up, so that however many are asked for, all lie inside.
  return low + (high - low) / 2 ** (position + 1);
}
