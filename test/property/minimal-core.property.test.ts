import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Effort } from '../../server/src/core/solver/effort.ts';
import { minimalCore } from '../../server/src/core/solver/minimal-core.ts';
import { Solver } from '../../server/src/core/solver/solver.ts';
import { any, type Constraint, flag, not } from '../../server/src/core/solver/terms.ts';
import { assertLaw } from '../harness/assert-law.ts';

const literal = fc.constantFrom('a', '-a', 'b', '-b', 'c', '-c', 'd', '-d');
const clause = fc.uniqueArray(literal, { minLength: 1, maxLength: 2 });

function toConstraint(text: string): Constraint {
  return text.startsWith('-') ? not(flag(text.slice(1))) : flag(text);
}

/** The positions of all sets of names, the one whose last is earliest first, of those with the same last the one whose last but one is. */
function* inOrder(count: number): Generator<readonly number[]> {
  for (let mask = 0; mask < 1 << count; mask++) {
    yield Array.from({ length: count }, (_, position) => position).filter((position) => mask & (1 << position));
  }
}

describe('a minimal core', () => {
  it('the minimal core is the one whose names, from the last on, stand as early as can be', () => {
    const seen = { consistent: 0, short: 0, long: 0 };
    assertLaw(
      1000,
      fc.property(fc.array(clause, { minLength: 2, maxLength: 9 }), (clauses) => {
        const solver = new Solver(new Effort(1_000_000));
        for (const [position, literals] of clauses.entries()) {
          solver.suppose(`c${position}`, any(...literals.map(toConstraint)));
        }
        const names = clauses.map((_, position) => `c${position}`);
        let expected: readonly string[] | 'consistent' = 'consistent';
        // Counting up, a mask is smaller than another exactly where its highest bit that differs is not set.
        for (const positions of inOrder(names.length)) {
          const some = positions.map((position) => `c${position}`);
          if (solver.statusOf(some) === 'unsat') {
            expected = some;
            break;
          }
        }
        expect(minimalCore(solver, names)).toEqual(expected);
        seen[expected === 'consistent' ? 'consistent' : expected.length < 3 ? 'short' : 'long']++;
      }),
    );
    expect(Math.min(...Object.values(seen))).toBeGreaterThan(50);
  });
});
