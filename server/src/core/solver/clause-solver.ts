import type { Effort } from './effort.ts';
import { VariableOrder } from './variable-order.ts';

/** A variable or its negation: twice the variable's number, one more for the negation. */
export type Literal = number;

/** The opposite literal. */
export function negate(literal: Literal): Literal {
  return literal ^ 1;
}

/** What decides which literals can hold together beyond what clauses say. */
export interface Theory {
  /** Takes a literal that holds from now on; gives literals that hold and cannot hold together, if there are such. */
  assert(literal: Literal): readonly Literal[] | undefined;
  /** Takes back all but the first so many literals it was given. */
  retractTo(count: number): void;
  /** Whether a variable is best taken to hold, from what was asserted so far: a guess, but one that is seldom taken back. */
  suggests(variable: number): boolean;
  /** Looks at a full assignment. `conflict`: literals that cannot hold together; `clauses`: what has to be decided besides. */
  finish():
    | { readonly conflict: readonly Literal[] }
    | { readonly clauses: readonly (readonly Literal[])[] }
    | undefined;
}

/** What came of a question. `core`: those of the assumed literals that cannot hold together. */
export type Verdict =
  | { readonly status: 'sat' }
  | { readonly status: 'unsat'; readonly core: readonly Literal[] }
  | { readonly status: 'undecided' };

const conflictsUntilRestart = 100;

/**
 * A conflict-driven clause solver that asks a theory about what clauses do not say. It has no randomness and no clock: the same
 * clauses in the same order give the same answer after the same steps.
 */
export class ClauseSolver {
  private readonly values: (boolean | undefined)[] = [];
  private readonly levels: number[] = [];
  private readonly reasons: (Literal[] | undefined)[] = [];
  private readonly watchers: Literal[][][] = [];
  private readonly trail: Literal[] = [];
  private readonly levelStarts: number[] = [];
  private readonly order = new VariableOrder();
  private propagated = 0;
  private asserted = 0;
  private isConsistent = true;

  constructor(
    private readonly theory: Theory,
    private readonly effort: Effort,
  ) {}

  /** A new variable, as its positive literal. */
  newVariable(): Literal {
    const variable = this.values.length;
    this.values.push(undefined);
    this.levels.push(0);
    this.reasons.push(undefined);
    this.watchers.push([], []);
    this.order.add(variable);
    return variable * 2;
  }

  /** Demands that one of these literals holds. */
  addClause(literals: readonly Literal[]): void {
    this.backtrackTo(0);
    const clause = [...new Set(literals)].filter((literal) => this.valueOf(literal) !== false);
    if (clause.some((literal) => clause.includes(negate(literal)) || this.valueOf(literal) === true)) return;
    const [only, second] = clause;
    if (only === undefined) this.isConsistent = false;
    else if (second === undefined) this.enqueue(only, undefined);
    else this.watch(clause);
  }

  /** Whether the literal holds, undefined where it is open. After `sat`: in the assignment found. */
  valueOf(literal: Literal): boolean | undefined {
    const value = this.values[literal >> 1];
    return value === undefined ? undefined : (literal & 1) === 0 ? value : !value;
  }

  /** Whether all clauses and these literals can hold together. */
  solve(assumed: readonly Literal[]): Verdict {
    this.backtrackTo(0);
    let conflicts = 0;
    while (this.isConsistent) {
      const conflict = this.propagate();
      if (conflict) {
        if (!this.learnFrom(conflict)) break;
        if (++conflicts % conflictsUntilRestart === 0) this.backtrackTo(0);
      } else if (this.effort.isSpent) {
        this.backtrackTo(0);
        return { status: 'undecided' };
      } else {
        const core = this.decide(assumed);
        if (core === 'complete') {
          if (this.finish()) return { status: 'sat' };
        } else if (core) {
          this.backtrackTo(0);
          return { status: 'unsat', core };
        }
      }
    }
    this.isConsistent = false;
    return { status: 'unsat', core: [] };
  }

  /** Asks the theory about a full assignment; whether it agrees. */
  private finish(): boolean {
    this.effort.spend(1);
    const objection = this.theory.finish();
    if (!objection) return true;
    if ('conflict' in objection) {
      if (!this.learnFrom(objection.conflict.map(negate))) this.isConsistent = false;
    } else {
      for (const clause of objection.clauses) this.addClause(clause);
    }
    return false;
  }

  /** Decides the next literal. Gives `complete` where all are decided, a core where an assumed one cannot hold. */
  private decide(assumed: readonly Literal[]): readonly Literal[] | 'complete' | undefined {
    while (this.levelStarts.length < assumed.length) {
      const literal = assumed[this.levelStarts.length] ?? 0;
      const value = this.valueOf(literal);
      if (value === false) return this.coreAgainst(literal, assumed);
      this.levelStarts.push(this.trail.length);
      if (value === true) continue;
      this.enqueue(literal, undefined);
      return undefined;
    }
    const variable = this.order.next((candidate) => this.values[candidate] === undefined);
    if (variable === undefined) return 'complete';
    this.effort.spend(1);
    this.levelStarts.push(this.trail.length);
    this.enqueue(this.theory.suggests(variable) ? variable * 2 : variable * 2 + 1, undefined);
    return undefined;
  }

  /** The assumed literals that make this one false, with it. */
  private coreAgainst(literal: Literal, assumed: readonly Literal[]): Literal[] {
    const isAssumed = new Set(assumed);
    const seen = new Set([literal >> 1]);
    const core: Literal[] = [literal];
    for (let position = this.trail.length - 1; position >= (this.levelStarts[0] ?? 0); position--) {
      const held = this.trail[position] ?? 0;
      if (!seen.has(held >> 1)) continue;
      const reason = this.reasons[held >> 1];
      if (!reason) {
        if (isAssumed.has(held)) core.push(held);
      } else {
        for (const other of reason) if (this.levelOf(other) > 0) seen.add(other >> 1);
      }
    }
    return core;
  }

  private enqueue(literal: Literal, reason: Literal[] | undefined): void {
    const variable = literal >> 1;
    this.values[variable] = (literal & 1) === 0;
    this.levels[variable] = this.levelStarts.length;
    this.reasons[variable] = reason;
    this.trail.push(literal);
  }

  private levelOf(literal: Literal): number {
    return this.levels[literal >> 1] ?? 0;
  }

  private watch(clause: Literal[]): void {
    for (const literal of clause.slice(0, 2)) this.watchers[literal]?.push(clause);
  }

  /** Draws what follows; a clause none of whose literals holds, where something cannot be. */
  private propagate(): readonly Literal[] | undefined {
    for (;;) {
      while (this.propagated < this.trail.length) {
        const conflict = this.visitWatchers(negate(this.trail[this.propagated++] ?? 0));
        if (conflict) return conflict;
      }
      const literal = this.trail[this.asserted];
      if (literal === undefined) return undefined;
      this.asserted++;
      this.effort.spend(1);
      const together = this.theory.assert(literal);
      if (together) return together.map(negate);
    }
  }

  /** Visits the clauses that watch a literal which has become false. */
  private visitWatchers(broken: Literal): Literal[] | undefined {
    const watchers = this.watchers[broken] ?? [];
    let kept = 0;
    for (let position = 0; position < watchers.length; position++) {
      const clause = watchers[position] ?? [];
      if (clause[0] === broken) {
        clause[0] = clause[1] ?? 0;
        clause[1] = broken;
      }
      const other = clause[0] ?? 0;
      const next = this.valueOf(other) === true ? 0 : this.findUnbroken(clause);
      if (next > 0) {
        clause[1] = clause[next] ?? 0;
        clause[next] = broken;
        this.watchers[clause[1]]?.push(clause);
        continue;
      }
      watchers[kept++] = clause;
      if (next === 0) continue;
      this.effort.spend(1);
      if (this.valueOf(other) === false) {
        while (++position < watchers.length) watchers[kept++] = watchers[position] ?? [];
        watchers.length = kept;
        return clause;
      }
      this.enqueue(other, clause);
    }
    watchers.length = kept;
    return undefined;
  }

  /** Position of a literal from the third on that is not false; -1 where there is none. */
  private findUnbroken(clause: readonly Literal[]): number {
    for (let position = 2; position < clause.length; position++) {
      if (this.valueOf(clause[position] ?? 0) !== false) return position;
    }
    return -1;
  }

  /** Learns from a clause none of whose literals holds, and steps back. False where nothing is left to step back from. */
  private learnFrom(conflict: readonly Literal[]): boolean {
    this.effort.spend(conflict.length);
    this.backtrackTo(Math.max(0, ...conflict.map((literal) => this.levelOf(literal))));
    if (this.levelStarts.length === 0) return false;
    const clause = this.analyse(conflict);
    const [asserting = 0] = clause;
    this.backtrackTo(clause.length > 1 ? this.levelOf(clause[1] ?? 0) : 0);
    if (clause.length > 1) this.watch(clause);
    this.enqueue(asserting, clause.length > 1 ? clause : undefined);
    this.order.decay();
    return true;
  }

  /**
   * The clause of the first literal of this level that alone leads to the conflict, in front; next the one of the highest level.
   */
  private analyse(conflict: readonly Literal[]): Literal[] {
    const level = this.levelStarts.length;
    const seen = new Set<number>();
    const learnt: Literal[] = [];
    let open = 0;
    let position = this.trail.length;
    const take = (literal: Literal): void => {
      const variable = literal >> 1;
      if (seen.has(variable) || this.levelOf(literal) === 0) return;
      seen.add(variable);
      this.order.bump(variable);
      if (this.levelOf(literal) === level) open++;
      else learnt.push(literal);
    };
    conflict.forEach(take);
    for (;;) {
      do position--;
      while (!seen.has((this.trail[position] ?? 0) >> 1));
      const held = this.trail[position] ?? 0;
      if (--open === 0) return this.withHighestSecond([negate(held), ...learnt]);
      this.effort.spend(1);
      for (const literal of this.reasons[held >> 1] ?? []) if (literal !== held) take(literal);
    }
  }

  private withHighestSecond(clause: Literal[]): Literal[] {
    let highest = 1;
    for (let position = 2; position < clause.length; position++) {
      if (this.levelOf(clause[position] ?? 0) > this.levelOf(clause[highest] ?? 0)) highest = position;
    }
    if (clause.length > 2) [clause[1], clause[highest]] = [clause[highest] ?? 0, clause[1] ?? 0];
    return clause;
  }

  private backtrackTo(level: number): void {
    if (this.levelStarts.length <= level) return;
    const start = this.levelStarts[level] ?? 0;
    for (let position = this.trail.length - 1; position >= start; position--) {
      const variable = (this.trail[position] ?? 0) >> 1;
      this.values[variable] = undefined;
      this.order.add(variable);
    }
    this.trail.length = start;
    this.levelStarts.length = level;
    this.propagated = Math.min(this.propagated, start);
    if (this.asserted > start) {
      this.asserted = start;
      this.theory.retractTo(start);
    }
  }
}
