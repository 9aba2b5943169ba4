/**
 * How far days lie apart: demands that one lies at most so many days after another. They can hold together exactly where no
 * circle of them adds up to less than nothing; days that fit them all are kept at hand. Source: Cotton and Maler, Fast and
 * Flexible Difference Constraint Propagation for DPLL(T), 2006 (from memory).
 */
import type { Literal } from './clause-solver.ts';

/** That day `a` lies at most `days` after day `b`. */
export interface DayAtom {
  readonly a: number;
  readonly b: number;
  readonly days: number;
}

interface Bound {
  readonly from: number;
  readonly to: number;
  readonly days: number;
  readonly literal: Literal;
}

/** Days under demands on their distances. Number 0 is day 0. */
export class DifferenceTheory {
  private days: number[];
  private readonly outgoing: Bound[][];
  private readonly asserted: Bound[] = [];

  constructor(count: number) {
    this.days = Array.from({ length: count }, () => 0);
    this.outgoing = this.days.map(() => []);
  }

  /** How many demands there are to take back. */
  get depth(): number {
    return this.asserted.length;
  }

  /** Takes back all demands but the first so many. */
  retractTo(depth: number): void {
    while (this.asserted.length > depth) {
      const bound = this.asserted.pop();
      if (bound) this.outgoing[bound.from]?.pop();
    }
  }

  /** Takes what a literal says; gives literals that cannot hold together. */
  assert({ a, b, days }: DayAtom, literal: Literal): Literal[] | undefined {
    const bound: Bound =
      (literal & 1) === 0 ? { from: b, to: a, days, literal } : { from: a, to: b, days: -days - 1, literal };
    this.asserted.push(bound);
    this.outgoing[bound.from]?.push(bound);
    return this.repair(bound);
  }

  /** Whether it is so for the days kept at hand. */
  holds({ a, b, days }: DayAtom): boolean {
    return (this.days[a] ?? 0) - (this.days[b] ?? 0) <= days;
  }

  /** A day for each number, in accordance with all demands. */
  values(): number[] {
    const [zero = 0] = this.days;
    return this.days.map((day) => day - zero);
  }

  /**
   * Brings forward the days that a new bound makes too late, and those that follow; a circle back to its start cannot be mended.
   */
  private repair(added: Bound): Literal[] | undefined {
    const days = [...this.days];
    const cameBy = new Map<number, Bound>();
    const waiting: Bound[] = [added];
    for (let position = 0; position < waiting.length; position++) {
      const bound = waiting[position] ?? added;
      const latest = (days[bound.from] ?? 0) + bound.days;
      if ((days[bound.to] ?? 0) <= latest) continue;
      days[bound.to] = latest;
      cameBy.set(bound.to, bound);
      if (bound.to === added.from) return this.circle(added, cameBy);
      for (const next of this.outgoing[bound.to] ?? []) waiting.push(next);
    }
    this.days = days;
    return undefined;
  }

  private circle(added: Bound, cameBy: ReadonlyMap<number, Bound>): Literal[] {
    const literals: Literal[] = [];
    let node = added.from;
    do {
      const bound = cameBy.get(node);
      if (!bound) break;
      literals.push(bound.literal);
      node = bound.from;
    } while (node !== added.from);
    return [...new Set(literals)];
  }
}
