import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluate, evaluateAtom } from '../../server/src/core/conditions/evaluate.ts';
import type { Swap } from '../../server/src/core/conditions/swap.ts';
import { plannedSwap } from '../../server/src/core/donors/planned-swap.ts';
import type { Claim } from '../../server/src/core/explanations/claims-of.ts';
import { planTrials } from '../../server/src/core/trials/plan-trials.ts';
import { trialShelf } from '../../server/src/core/trials/trial-shelf.ts';
import { whatToLookFor } from '../../server/src/core/trials/what-to-look-for.ts';
import { arbitraryTrials } from '../harness/arbitrary-trials.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';

/** Whether a swap works by a claim; undefined where its condition is not known. */
function foretold({ formula, holds }: Claim, swap: Swap): boolean | undefined {
  const truth = evaluate(formula, swap);
  return truth === undefined ? undefined : truth === (holds === 'works');
}

describe('what to look for', () => {
  it('of any swap like that the two explanations say the opposite', () => {
    let seen = 0;
    assertLaw(
      40,
      fc.property(arbitraryTrials, ({ snapshot, decided }) => {
        const claims = planTrials('tern', decided, snapshot)
          .candidates.slice(0, 5)
          .map(({ claim }) => claim);
        const { patients, donors } = trialShelf('tern', snapshot);
        const swaps = patients.flatMap((patient) =>
          donors.flatMap(({ drive }) =>
            [['chip_moved'] as const, ['left'] as const].map((actions) =>
              plannedSwap(patient, drive, { actions }, snapshot),
            ),
          ),
        );
        for (const [n, a] of claims.entries()) {
          for (const b of claims.slice(n + 1)) {
            const wanted = whatToLookFor(a, b, snapshot);
            if (!wanted) continue;
            const like = swaps.filter((swap) =>
              wanted.every(({ atom, wanted: holds }) => evaluateAtom(atom, swap) === holds),
            );
            for (const swap of like) expect(foretold(a, swap)).toBe(!foretold(b, swap));
            seen += like.length;
          }
        }
      }),
    );
    expectOften(seen, 200);
  });
});
