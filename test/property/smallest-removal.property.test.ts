import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Effort } from '../../server/src/core/solver/effort.ts';
import { smallestHittingSet } from '../../server/src/core/solver/hitting-set.ts';
import { minimalCore } from '../../server/src/core/solver/minimal-core.ts';
import { smallestRemoval } from '../../server/src/core/solver/smallest-removal.ts';
import { Solver } from '../../server/src/core/solver/solver.ts';
import { any, type Constraint, flag, not } from '../../server/src/core/solver/terms.ts';
import { assertLaw } from '../harness/assert-law.ts';

/** Subsets of a size, in order of their items. */
function* subsets<Item>(items: readonly Item[], size: number): Generator<readonly Item[]> {
  if (size === 0) yield [];
  for (let first = 0; first + size <= items.length && size > 0; first++) {
    for (const rest of subsets(items.slice(first + 1), size - 1)) yield [items[first]!, ...rest];
  }
}

function* allSubsets<Item>(items: readonly Item[]): Generator<readonly Item[]> {
  for (let size = 0; size <= items.length; size++) yield* subsets(items, size);
}

function meets(hitting: readonly number[], sets: readonly (readonly number[])[]): boolean {
  return sets.every((set) => set.some((item) => hitting.includes(item)));
}

/** Sets of which none holds another of them. */
function minimal(sets: readonly (readonly string[])[]): (readonly string[])[] {
  return sets.filter((set) => !sets.some((other) => other !== set && other.every((item) => set.includes(item))));
}

/** A clause of variables such as `a`, negated ones written `-a`. */
type Clause = readonly string[];

/** Clauses by the names C1, C2 and so on, as something that a solver may assume. */
function solverOf(clauses: readonly Clause[]): Solver {
  const solver = new Solver(new Effort(1_000_000));
  const toConstraint = (text: string): Constraint => (text.startsWith('-') ? not(flag(text.slice(1))) : flag(text));
  for (const [position, clause] of clauses.entries()) solver.suppose(name(position), any(...clause.map(toConstraint)));
  return solver;
}

function name(position: number): string {
  return `C${position + 1}`;
}

function removalOf(clauses: readonly Clause[]): readonly string[] | 'undecided' {
  const solver = solverOf(clauses);
  const items = clauses.map((_, position) => name(position));
  return smallestRemoval({
    ...{ items, known: [], mayGoOn: () => true },
    contradictionWithout: (removed) => {
      const answer = solver.solve(items.filter((item) => !removed.has(item)));
      if (answer.status === 'unsat') return answer.core;
      return answer.status === 'sat' ? 'consistent' : 'undecided';
    },
  });
}

/** Minimal contradictions and minimal removals, by trying every subset. */
function families(clauses: readonly Clause[]): { readonly contradictions: string[][]; readonly removals: string[][] } {
  const solver = solverOf(clauses);
  const items = clauses.map((_, position) => name(position));
  const all = [...allSubsets(items)];
  const contradictory = all.filter((some) => solver.statusOf(some) === 'unsat');
  const restoring = all.filter((some) => solver.statusOf(items.filter((item) => !some.includes(item))) === 'sat');
  return {
    contradictions: minimal(contradictory).map((set) => [...set]),
    removals: minimal(restoring).map((set) => [...set]),
  };
}

/** The minimal hitting sets of sets, by trying every subset. */
function minimalHittingSets(sets: readonly (readonly string[])[], items: readonly string[]): string[][] {
  const hitting = [...allSubsets(items)].filter((some) => sets.every((set) => set.some((item) => some.includes(item))));
  return minimal(hitting).map((set) => [...set]);
}

const literal = fc.constantFrom('a', '-a', 'b', '-b', 'c', '-c', 'd', '-d');
const clauses = fc.array(fc.uniqueArray(literal, { minLength: 1, maxLength: 2 }), { minLength: 2, maxLength: 8 });

describe('a smallest removal', () => {
  it('a smallest hitting set meets every set, and no set that does is smaller, or as small and earlier', () => {
    const items = [0, 1, 2, 3, 4, 5, 6, 7];
    const set = fc.subarray(items, { minLength: 1, maxLength: 4 });
    assertLaw(
      2000,
      fc.property(fc.array(set, { maxLength: 8 }), (sets) => {
        const expected = [...allSubsets(items)].find((some) => meets(some, sets));
        expect(smallestHittingSet(sets, () => true)).toEqual(expected);
      }),
    );
  });

  it('what remains after a smallest removal can hold together, and after no smaller or earlier one of its size', () => {
    const sizes = new Map<number, number>();
    assertLaw(
      800,
      fc.property(clauses, (all) => {
        const items = all.map((_, position) => name(position));
        const solver = solverOf(all);
        const expected = [...allSubsets(items)].find(
          (some) => solver.statusOf(items.filter((item) => !some.includes(item))) === 'sat',
        );
        expect(removalOf(all)).toEqual(expected);
        sizes.set(expected?.length ?? 0, (sizes.get(expected?.length ?? 0) ?? 0) + 1);
      }),
    );
    expect(Math.min(sizes.get(1) ?? 0, sizes.get(2) ?? 0)).toBeGreaterThan(20);
  });

  it("minimal contradictions and minimal removals are each other's minimal hitting sets", () => {
    assertLaw(
      150,
      fc.property(clauses, (all) => {
        const items = all.map((_, position) => name(position));
        const { contradictions, removals } = families(all);
        expect(minimalHittingSets(contradictions, items)).toEqual(removals);
        expect(minimalHittingSets(removals, items)).toEqual(contradictions);
        const core = minimalCore(solverOf(all), items);
        if (contradictions.length === 0) expect(core).toBe('consistent');
        else expect(contradictions).toContainEqual(core);
        expect(removals[0]).toEqual(removalOf(all));
      }),
    );
  });
});
