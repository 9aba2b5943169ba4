import { describe, expect, it } from 'vitest';
import { Effort } from '../../server/src/core/solver/effort.ts';
import { minimalCore } from '../../server/src/core/solver/minimal-core.ts';
import { smallestRemoval } from '../../server/src/core/solver/smallest-removal.ts';
import { Solver } from '../../server/src/core/solver/solver.ts';
import { any, type Constraint, flag, not } from '../../server/src/core/solver/terms.ts';

/**
 * Clauses with their minimal unsatisfiable sets (MUS) and minimal correction sets (MCS).
 * Source: Liffiton and Sakallah, Algorithms for Computing Minimal Unsatisfiable Subsets of Constraints, 2008 (from memory); all found again by
 * trying every subset.
 */
const families = [
  { clauses: 'a; -a; -a b; -b', mus: ['12', '134'], mcs: ['1', '23', '24'] },
  { clauses: 'a; -a b; -b; -a', mus: ['123', '14'], mcs: ['1', '24', '34'] },
  { clauses: 'a; -a; b; -b', mus: ['12', '34'], mcs: ['13', '14', '23', '24'] },
  { clauses: 'a b; a -b; -a b; -a -b', mus: ['1234'], mcs: ['1', '2', '3', '4'] },
  { clauses: 'a; -a b; -b; -a c; -c', mus: ['123', '145'], mcs: ['1', '24', '25', '34', '35'] },
  { clauses: 'a; -a -b; b; -b c; -c; d', mus: ['123', '345'], mcs: ['3', '14', '15', '24', '25'] },
] as const;

function solverOf(text: string): { readonly solver: Solver; readonly names: readonly string[] } {
  const solver = new Solver(new Effort(100_000));
  const toConstraint = (word: string): Constraint => (word.startsWith('-') ? not(flag(word.slice(1))) : flag(word));
  const names = text.split('; ').map((clause, position) => {
    solver.suppose(`${position + 1}`, any(...clause.split(' ').map(toConstraint)));
    return `${position + 1}`;
  });
  return { solver, names };
}

function subsetsOf(names: readonly string[]): string[][] {
  let sets: string[][] = [[]];
  for (const name of names) sets = [...sets, ...sets.map((set) => [...set, name])];
  return sets;
}

function minimal(sets: readonly string[][]): string[] {
  return sets
    .filter((set) => !sets.some((other) => other !== set && other.every((item) => set.includes(item))))
    .map((set) => set.join(''))
    .sort((a, b) => a.length - b.length || (a < b ? -1 : 1));
}

function hittingSets(sets: readonly string[], names: readonly string[]): string[] {
  return minimal(subsetsOf(names).filter((some) => sets.every((set) => some.some((item) => set.includes(item)))));
}

function sorted(sets: readonly string[]): string[] {
  return minimal(sets.map((set) => [...set]));
}

describe.each(families)('$clauses', ({ clauses, mus, mcs }) => {
  const { solver, names } = solverOf(clauses);

  it('has these minimal contradictions and removals, and no others', () => {
    const subsets = subsetsOf(names);
    expect(minimal(subsets.filter((set) => solver.statusOf(set) === 'unsat'))).toEqual(sorted(mus));
    const rest = (set: readonly string[]): string[] => names.filter((name) => !set.includes(name));
    expect(minimal(subsets.filter((set) => solver.statusOf(rest(set)) === 'sat'))).toEqual(sorted(mcs));
  });

  it('each family gives the other', () => {
    expect(hittingSets(mus, names)).toEqual(sorted(mcs));
    expect(hittingSets(mcs, names)).toEqual(sorted(mus));
  });

  it('gives one of them under every order of preference', () => {
    const turned = [...names].reverse();
    for (const order of [names, turned]) {
      const core = minimalCore(solver, order);
      if (typeof core === 'string') throw new Error(core);
      expect(mus).toContain([...core].sort().join(''));
    }
  });

  it('gives the first of the smallest removals', () => {
    const removal = smallestRemoval({
      ...{ items: names, known: [], mayGoOn: () => true },
      contradictionWithout: (removed) => {
        const answer = solver.solve(names.filter((name) => !removed.has(name)));
        if (answer.status !== 'unsat') return answer.status === 'sat' ? 'consistent' : 'undecided';
        return answer.core;
      },
    });
    if (removal === 'undecided') throw new Error(removal);
    expect(removal.join('')).toBe(sorted(mcs)[0]);
  });
});
