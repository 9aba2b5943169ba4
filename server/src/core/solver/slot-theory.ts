import type { Cells } from './cells.ts';
import type { Literal, Theory } from './clause-solver.ts';
import { type DayAtom, DifferenceTheory } from './difference-theory.ts';
import { EqualityTheory, type SlotAtom } from './equality-theory.ts';
import type { Value } from './terms.ts';

/** What a variable says of slots; variables of mere clauses say nothing. */
export type TheoryAtom =
  | { readonly about: 'values'; readonly atom: SlotAtom }
  | { readonly about: 'days'; readonly atom: DayAtom };

/** Values and days of slots together: no demand joins the two, so each looks after its own. */
export class SlotTheory implements Theory {
  private readonly values: EqualityTheory;
  private readonly days: DifferenceTheory;
  /** How deep both were before each literal. */
  private readonly marks: (readonly [number, number])[] = [];

  /** `atomOf` gives what a variable says, by its number. */
  constructor(
    cellsOf: readonly Cells[],
    dayCount: number,
    private readonly atomOf: (variable: number) => TheoryAtom | undefined,
    findMembership: (slot: number, mask: bigint) => Literal,
  ) {
    this.values = new EqualityTheory(cellsOf, findMembership);
    this.days = new DifferenceTheory(dayCount);
  }

  assert(literal: Literal): readonly Literal[] | undefined {
    this.marks.push([this.values.depth, this.days.depth]);
    const says = this.atomOf(literal >> 1);
    if (!says) return undefined;
    return says.about === 'values' ? this.values.assert(says.atom, literal) : this.days.assert(says.atom, literal);
  }

  retractTo(count: number): void {
    const mark = this.marks[count];
    if (!mark) return;
    this.marks.length = count;
    this.values.retractTo(mark[0]);
    this.days.retractTo(mark[1]);
  }

  suggests(variable: number): boolean {
    const says = this.atomOf(variable);
    if (!says) return false;
    return says.about === 'values' ? this.values.suggests(says.atom) : this.days.holds(says.atom);
  }

  finish(): ReturnType<Theory['finish']> {
    return this.values.finish();
  }

  /** A value for each slot and a day for each day slot, by number. */
  model(): { readonly values: readonly Value[]; readonly days: readonly number[] } {
    return { values: this.values.values(), days: this.days.values() };
  }
}
