import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Effort } from '../../server/src/core/solver/effort.ts';
import { minimalCore } from '../../server/src/core/solver/minimal-core.ts';
import { type Answer, holds, type Model, Solver } from '../../server/src/core/solver/solver.ts';
import type { Constraint, Value } from '../../server/src/core/solver/terms.ts';
import { arbitraryConstraint, namesIn, slotValues } from '../harness/arbitrary-constraint.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';

const effort = (): Effort => new Effort(1_000_000);

function solverOf(constraints: readonly Constraint[]): Solver {
  const solver = new Solver(effort());
  for (const [position, constraint] of constraints.entries()) solver.suppose(`c${position}`, constraint);
  return solver;
}

function answerTo(constraints: readonly Constraint[]): Answer {
  const solver = new Solver(effort());
  for (const constraint of constraints) solver.require(constraint);
  return solver.solve();
}

/** Whether any assignment meets the constraints, by trying all of them; undefined where there are too many. */
function bruteForce(constraints: readonly Constraint[]): boolean | undefined {
  const names = [...new Set(constraints.flatMap((constraint) => [...namesIn(constraint)]))];
  const choices = names.map((name): readonly (Value | boolean)[] => slotValues.get(name) ?? [false, true]);
  const count = choices.reduce((product, { length }) => product * length, 1);
  if (count > 20_000) return undefined;
  for (let number = 0; number < count; number++) {
    const values = new Map<string, Value>();
    const flags = new Map<string, boolean>();
    let rest = number;
    for (const [position, name] of names.entries()) {
      const list = choices[position]!;
      const value = list[rest % list.length]!;
      rest = Math.floor(rest / list.length);
      if (name.startsWith('flag ')) flags.set(name.slice(5), value === true);
      else values.set(name, value);
    }
    const model: Model = { values, flags };
    if (constraints.every((constraint) => holds(constraint, model))) return true;
  }
  return false;
}

const several = fc.array(arbitraryConstraint, { minLength: 1, maxLength: 6 });

describe('the solver', () => {
  it('an answer is right, as trying every value shows', () => {
    const seen = { sat: 0, unsat: 0, undecided: 0 };
    assertLaw(
      1500,
      fc.property(several, (constraints) => {
        const expected = bruteForce(constraints);
        fc.pre(expected !== undefined);
        const { status } = answerTo(constraints);
        seen[status]++;
        expect(status).toBe(expected ? 'sat' : 'unsat');
      }),
    );
    expectOften(Math.min(seen.sat, seen.unsat), 200);
  });

  it('a model meets every constraint', () => {
    assertLaw(
      1500,
      fc.property(several, (constraints) => {
        const answer = answerTo(constraints);
        if (answer.status !== 'sat') return;
        for (const constraint of constraints) expect(holds(constraint, answer.model)).toBe(true);
      }),
    );
  });

  it('a core cannot hold together, and a minimal one can once any of it is left out', () => {
    assertLaw(
      1000,
      fc.property(fc.array(arbitraryConstraint, { minLength: 3, maxLength: 10 }), (constraints) => {
        const solver = solverOf(constraints);
        const answer = solver.solve();
        if (answer.status !== 'unsat') return;
        expect(solver.solve(answer.core).status).toBe('unsat');
        const minimal = minimalCore(
          solver,
          constraints.map((_, position) => `c${position}`),
        );
        if (typeof minimal === 'string') throw new Error(minimal);
        expect(solver.solve(minimal).status).toBe('unsat');
        for (const name of minimal) {
          expect(solver.solve(minimal.filter((other) => other !== name)).status).toBe('sat');
        }
      }),
    );
  });

  it('the order in which constraints are given changes no answer', () => {
    assertLaw(
      500,
      fc.property(fc.array(arbitraryConstraint, { minLength: 2, maxLength: 10 }), (constraints) => {
        expect(answerTo([...constraints].reverse()).status).toBe(answerTo(constraints).status);
      }),
    );
  });
});
