import { Cells } from './cells.ts';
import { ClauseSolver, type Literal, negate } from './clause-solver.ts';
import type { Effort } from './effort.ts';
import { SlotTheory, type TheoryAtom } from './slot-theory.ts';
import type { Constraint, Slot, Sort, Value, ValueSet } from './terms.ts';

/** Constraints as clauses, with the theory that gives their atoms a meaning. */
export class CompiledConstraints {
  readonly clauses: ClauseSolver;
  private readonly theory: SlotTheory;
  private readonly vocabulary: Vocabulary;
  private readonly atoms: (TheoryAtom | undefined)[] = [];
  private readonly literals = new Map<string, Literal>();
  private readonly truth: Literal;

  constructor(constraints: readonly Constraint[], effort: Effort) {
    this.vocabulary = new Vocabulary(constraints);
    this.theory = new SlotTheory(
      this.vocabulary.cellsOf,
      this.vocabulary.dayCount,
      (variable) => this.atoms[variable],
      (slot, mask) => this.membership(slot, mask),
    );
    this.clauses = new ClauseSolver(this.theory, effort);
    this.truth = this.clauses.newVariable();
    this.clauses.addClause([this.truth]);
    for (const bound of this.vocabulary.dayBounds()) this.clauses.addClause([this.literalOf(bound)]);
  }

  /** A literal that holds exactly where the constraint does. */
  literalOf(constraint: Constraint): Literal {
    switch (constraint.op) {
      case 'all':
        return negate(this.anyOf(constraint.parts.map((part) => negate(this.literalOf(part)))));
      case 'any':
        return this.anyOf(constraint.parts.map((part) => this.literalOf(part)));
      case 'not':
        return negate(this.literalOf(constraint.part));
      case 'equal':
        return this.equality(this.vocabulary.numberOf(constraint.a), this.vocabulary.numberOf(constraint.b));
      case 'in': {
        const slot = this.vocabulary.numberOf(constraint.slot);
        return this.membership(slot, this.vocabulary.maskOf(constraint.slot, constraint.set));
      }
      case 'at-most-after':
        return this.distance(this.vocabulary.dayOf(constraint.a), this.vocabulary.dayOf(constraint.b), constraint.days);
      case 'flag':
        return this.named(`flag ${constraint.name}`);
      case 'at-most':
        return negate(
          this.atLeast(
            constraint.most + 1,
            constraint.parts.map((part) => this.literalOf(part)),
          ),
        );
    }
  }

  /** Demands that a constraint holds. */
  require(constraint: Constraint): void {
    if (constraint.op === 'all') for (const part of constraint.parts) this.require(part);
    else if (constraint.op === 'any') this.clauses.addClause(constraint.parts.map((part) => this.literalOf(part)));
    else this.clauses.addClause([this.literalOf(constraint)]);
  }

  /** A literal of its own under which the constraint has to hold. */
  guard(constraint: Constraint): Literal {
    const literal = this.clauses.newVariable();
    this.clauses.addClause([negate(literal), this.literalOf(constraint)]);
    return literal;
  }

  /** Literals that each put a slot into one cell, in the order of its values. */
  choicesOf(slot: Slot): Literal[] {
    const number = this.vocabulary.numbers.get(slot.name);
    const cells = number === undefined ? undefined : this.vocabulary.cellsOf[number];
    return cells && number !== undefined ? cells.singles(cells.full).map((mask) => this.membership(number, mask)) : [];
  }

  /** The values of slots and flags in the assignment found last. */
  model(): { readonly values: ReadonlyMap<string, Value>; readonly flags: ReadonlyMap<string, boolean> } {
    const { values, days } = this.theory.model();
    const named = new Map<string, Value>();
    for (const [name, number] of this.vocabulary.numbers) named.set(name, values[number] ?? '');
    for (const [name, number] of this.vocabulary.days) named.set(name, days[number] ?? 0);
    const flags = new Map<string, boolean>();
    for (const [name, literal] of this.literals) {
      if (name.startsWith('flag ')) flags.set(name.slice('flag '.length), this.clauses.valueOf(literal) === true);
    }
    return { values: named, flags };
  }

  private named(name: string, atom?: TheoryAtom): Literal {
    let literal = this.literals.get(name);
    if (literal === undefined) {
      literal = this.clauses.newVariable();
      this.atoms[literal >> 1] = atom;
      this.literals.set(name, literal);
    }
    return literal;
  }

  private equality(a: number, b: number): Literal {
    const [low, high] = a < b ? [a, b] : [b, a];
    return this.named(`${low} = ${high}`, { about: 'values', atom: { says: 'equal', a: low, b: high } });
  }

  private membership(slot: number, mask: bigint): Literal {
    const full = this.vocabulary.cellsOf[slot]?.full ?? 0n;
    if (mask === 0n) return negate(this.truth);
    if (mask === full) return this.truth;
    // Of a set and its complement only one gets a variable.
    if (mask & 1n) return negate(this.membership(slot, full & ~mask));
    // Digits of a power of two cost least to write.
    return this.named(`${slot} in ${mask.toString(32)}`, { about: 'values', atom: { says: 'in', slot, mask } });
  }

  private distance(a: number, b: number, days: number): Literal {
    if (a > b) return negate(this.distance(b, a, -days - 1));
    return this.named(`${a} - ${b} <= ${days}`, { about: 'days', atom: { a, b, days } });
  }

  private anyOf(parts: readonly Literal[]): Literal {
    const open = [...new Set(parts)].filter((part) => part !== negate(this.truth)).sort((a, b) => a - b);
    if (open.some((part) => part === this.truth || open.includes(negate(part)))) return this.truth;
    const [only] = open;
    if (only === undefined) return negate(this.truth);
    if (open.length === 1) return only;
    const name = `any ${open.join(' ')}`;
    const known = this.literals.get(name);
    if (known !== undefined) return known;
    const literal = this.named(name);
    this.clauses.addClause([negate(literal), ...open]);
    for (const part of open) this.clauses.addClause([literal, negate(part)]);
    return literal;
  }

  /** A literal that holds where at least so many of these do. */
  private atLeast(least: number, parts: readonly Literal[]): Literal {
    // `reached[n]`: at least n of the parts looked at so far.
    let reached: Literal[] = [this.truth];
    for (const part of parts) {
      const next = [this.truth];
      for (let count = 1; count <= least; count++) {
        const before = reached[count] ?? negate(this.truth);
        const oneMore = negate(this.anyOf([negate(part), negate(reached[count - 1] ?? negate(this.truth))]));
        next.push(this.anyOf([before, oneMore]));
      }
      reached = next;
    }
    return reached[least] ?? negate(this.truth);
  }
}

/** The slots that constraints speak of, with numbers, and the cells of their sorts. */
class Vocabulary {
  readonly numbers = new Map<string, number>();
  /** Day slots; number 0 is day 0. */
  readonly days = new Map<string, number>();
  readonly cellsOf: Cells[] = [];
  private readonly daySorts: (readonly [Slot, Sort])[] = [];
  private readonly cells = new Map<string, Cells>();
  private readonly slotsBySort = new Map<string, { readonly sort: Sort; count: number; readonly sets: ValueSet[] }>();

  constructor(constraints: readonly Constraint[]) {
    for (const constraint of constraints) this.read(constraint);
    for (const [name, { sort, sets, count }] of this.slotsBySort) this.cells.set(name, new Cells(sort, sets, count));
    this.cellsOf = this.sortOf.map((name) => this.getCells(name));
  }

  private readonly sortOf: string[] = [];

  get dayCount(): number {
    return this.days.size + 1;
  }

  numberOf(slot: Slot): number {
    return this.numbers.get(slot.name) ?? 0;
  }

  dayOf(slot: Slot | undefined): number {
    return slot ? (this.days.get(slot.name) ?? 0) : 0;
  }

  maskOf(slot: Slot, set: ValueSet): bigint {
    return this.getCells(slot.sort.name).maskOf(set);
  }

  /** That every day lies within the bounds of its sort. */
  dayBounds(): Constraint[] {
    return this.daySorts.flatMap(([slot, { from, to }]): Constraint[] => [
      ...(to === undefined ? [] : [{ op: 'at-most-after' as const, a: slot, b: undefined, days: to }]),
      ...(from === undefined
        ? []
        : [{ op: 'not' as const, part: { op: 'at-most-after' as const, a: slot, b: undefined, days: from - 1 } }]),
    ]);
  }

  private getCells(sort: string): Cells {
    const cells = this.cells.get(sort);
    if (!cells) throw new Error(`There is no sort ${sort}`);
    return cells;
  }

  private read(constraint: Constraint): void {
    switch (constraint.op) {
      case 'all':
      case 'any':
      case 'at-most':
        for (const part of constraint.parts) this.read(part);
        return;
      case 'not':
        this.read(constraint.part);
        return;
      case 'equal':
        this.addSlot(constraint.a);
        this.addSlot(constraint.b);
        return;
      case 'in':
        this.addSlot(constraint.slot);
        this.slotsBySort.get(constraint.slot.sort.name)?.sets.push(constraint.set);
        return;
      case 'at-most-after':
        this.addDay(constraint.a);
        if (constraint.b) this.addDay(constraint.b);
        return;
      case 'flag':
        return;
    }
  }

  private addSlot({ name, sort }: Slot): void {
    if (this.numbers.has(name)) return;
    this.numbers.set(name, this.numbers.size);
    this.sortOf.push(sort.name);
    const known = this.slotsBySort.get(sort.name);
    if (known) known.count++;
    else this.slotsBySort.set(sort.name, { sort, count: 1, sets: [] });
  }

  private addDay(day: Slot): void {
    if (this.days.has(day.name)) return;
    this.days.set(day.name, this.days.size + 1);
    this.daySorts.push([day, day.sort]);
  }
}
