import fc from 'fast-check';
import { describe, it } from 'vitest';
import type { ConditionData } from '../../schemas/gen/records.ts';
import { evaluate } from '../../server/src/core/conditions/evaluate.ts';
import { toFormula } from '../../server/src/core/conditions/formula.ts';
import { type Swap, swapOf } from '../../server/src/core/conditions/swap.ts';
import { jointBackground } from '../../server/src/core/reasoning/joint-background.ts';
import { conditionConstraint } from '../../server/src/core/solver/condition-constraint.ts';
import { Effort } from '../../server/src/core/solver/effort.ts';
import { RecordedSwap } from '../../server/src/core/solver/recorded-swap.ts';
import { Solver } from '../../server/src/core/solver/solver.ts';
import { all, not } from '../../server/src/core/solver/terms.ts';
import { arbitraryBase } from '../harness/arbitrary-base.ts';
import { arbitraryCondition } from '../harness/arbitrary-condition.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { snapshotOfBase } from '../harness/snapshot-of.ts';

/** Whether the condition can hold on the swap, and whether it can fail to, as the solver says. */
function possibilities(condition: ConditionData, swap: Swap): { readonly holds: boolean; readonly fails: boolean } {
  const terms = new RecordedSwap(swap);
  const constraint = conditionConstraint(toFormula(condition, []), terms);
  const boards = [swap.patient.board, swap.donor.board].flatMap((board) => board ?? []);
  const background = all(...jointBackground(terms.open.values(), terms.claims.values(), boards));
  const canBe = (wanted: typeof constraint): boolean => {
    const solver = new Solver(new Effort(100_000));
    solver.require(background);
    solver.require(wanted);
    const { status } = solver.solve();
    if (status === 'undecided') throw new Error('the effort does not suffice');
    return status === 'sat';
  };
  return { holds: canBe(constraint), fails: canBe(not(constraint)) };
}

describe('a recorded swap', () => {
  it('where what is recorded decides a condition, the solver decides it alike', () => {
    const seen = { true: 0, false: 0, undefined: 0 };
    assertLaw(
      150,
      fc.property(
        arbitraryBase,
        fc.array(arbitraryCondition(2), { minLength: 4, maxLength: 12 }),
        (base, conditions) => {
          const snapshot = snapshotOfBase(base);
          for (const outcome of snapshot.records('outcome')) {
            const swap = swapOf(outcome, snapshot);
            if (!swap) continue;
            for (const condition of conditions) {
              const truth = evaluate(toFormula(condition, []), swap);
              const { holds, fails } = possibilities(condition, swap);
              seen[`${truth}`]++;
              if (truth === true && (!holds || fails))
                throw new Error(`true, but not by the solver: ${JSON.stringify(condition)}`);
              if (truth === false && (holds || !fails))
                throw new Error(`false, but not by the solver: ${JSON.stringify(condition)}`);
              if (truth === undefined && !holds && !fails)
                throw new Error(`impossible either way: ${JSON.stringify(condition)}`);
            }
          }
        },
      ),
    );
    expectOften(Math.min(seen.true, seen.false, seen.undefined), 200);
  });
});
