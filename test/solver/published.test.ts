/**
 * Sets of clauses with all their minimal unsatisfiable subsets, the first after Liffiton and Sakallah, Algorithms for Computing
 * Minimal Unsatisfiable Subsets of Constraints, J. Autom. Reasoning 40 (2008), from memory; all of them checked by trying every
 * subset. What minimal means: springer, 978-3-030-81688-9_15.
 */
import { describe, expect, it } from 'vitest';
import { Effort } from '../../server/src/core/solver/effort.ts';
import { minimalCore } from '../../server/src/core/solver/minimal-core.ts';
import { Solver } from '../../server/src/core/solver/solver.ts';
import { all, any, type Constraint, flag, implies, isIn, not, slot } from '../../server/src/core/solver/terms.ts';

const cases: readonly (readonly [clauses: string, subsets: readonly string[]])[] = [
  ['a; -a; -a b; -b', ['1 2', '1 3 4']],
  ['a; -a b; -b; -a', ['1 2 3', '1 4']],
  ['a; -a; b; -b', ['1 2', '3 4']],
  ['a b; a -b; -a b; -a -b', ['1 2 3 4']],
  ['a; -a b; -b; -a c; -c', ['1 2 3', '1 4 5']],
  ['a; -a -b; b; -b c; -c; d', ['1 2 3', '3 4 5']],
];

function clause(text: string): Constraint {
  return any(
    ...text
      .trim()
      .split(' ')
      .map((word) => (word.startsWith('-') ? not(flag(word.slice(1))) : flag(word))),
  );
}

function solverOf(constraints: readonly Constraint[]): Solver {
  const solver = new Solver(new Effort(10_000_000));
  for (const [position, constraint] of constraints.entries()) solver.suppose(String(position + 1), constraint);
  return solver;
}

function orders(names: readonly string[]): string[][] {
  if (names.length < 2) return [[...names]];
  return names.flatMap((name) => orders(names.filter((other) => other !== name)).map((rest) => [name, ...rest]));
}

/** The minimal sets that come out when names are given in every order. */
function minimalSets(solver: Solver, count: number): string[] {
  const names = Array.from({ length: count }, (_, position) => String(position + 1));
  const found = orders(names).map((order) => {
    const core = minimalCore(solver, order);
    if (typeof core === 'string') throw new Error(core);
    return [...core].sort().join(' ');
  });
  return [...new Set(found)].sort();
}

describe('published sets that cannot hold together', () => {
  it.each(cases)('%s', (text, subsets) => {
    const clauses = text.split(';').map(clause);
    expect(minimalSets(solverOf(clauses), clauses.length)).toEqual(subsets);
  });

  it('x + y <= 5, x - y >= 3, x + y >= 8, x <= 4: two sets, neither of which is the {2, 3} that is told of it', () => {
    // Sums are nothing the solver knows; over whole numbers from 0 to 12 they are a list of pairs.
    const numbers = { name: 'number', holds: 'integers', from: 0, to: 12 } as const;
    const [x, y] = [slot('x', numbers), slot('y', numbers)];
    const where = (test: (x: number, y: number) => boolean): Constraint =>
      all(
        ...Array.from({ length: 13 }, (_, one) => {
          const others = Array.from({ length: 13 }, (_, other) => other).filter((other) => test(one, other));
          return implies(isIn(x, { anyOf: [one] }), isIn(y, { anyOf: others }));
        }),
      );
    const solver = solverOf([
      where((one, other) => one + other <= 5),
      where((one, other) => one - other >= 3),
      where((one, other) => one + other >= 8),
      isIn(x, { to: 4 }),
    ]);
    expect(minimalSets(solver, 4)).toEqual(['1 3', '2 3 4']);
    expect(solver.solve(['2', '3']).status).toBe('sat');
  });
});

describe('effort', () => {
  /** The pigeonhole principle. Source: Haken, The intractability of resolution, 1985 (from memory). */
  function pigeons(count: number): Constraint {
    const places = { name: 'place', holds: Array.from({ length: count - 1 }, (_, place) => place) };
    const slots = Array.from({ length: count }, (_, number) => slot(`pigeon ${number}`, places));
    const pairs = slots.flatMap((a, position) => slots.slice(0, position).map((b) => not({ op: 'equal', a, b })));
    return all(...pairs);
  }

  it('is enough for five pigeons in four places, and counted alike every time', () => {
    const spent = [0, 1].map(() => {
      const effort = new Effort(100_000);
      const solver = new Solver(effort);
      solver.require(pigeons(5));
      expect(solver.solve().status).toBe('unsat');
      return effort.steps;
    });
    expect(spent[0]).toBe(spent[1]);
  });

  it('that is spent leaves the question open, and says so again when asked again', () => {
    const effort = new Effort(2000);
    const solver = new Solver(effort);
    solver.suppose('pigeons', pigeons(12));
    expect(solver.solve().status).toBe('undecided');
    expect(solver.solve().status).toBe('undecided');
    expect(minimalCore(solver, ['pigeons'])).toBe('undecided');
    expect(effort.steps).toBeLessThan(10_000);
  });
});
