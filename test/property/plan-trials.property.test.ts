import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { romTravels } from '../../server/src/core/conditions/rom-travels.ts';
import type { DecidedSwap } from '../../server/src/core/explanations/decided-swaps.ts';
import { type WeighedPartitions, weighPartitions } from '../../server/src/core/explanations/weigh-partitions.ts';
import { planTrials } from '../../server/src/core/trials/plan-trials.ts';
import { trialGroups } from '../../server/src/core/trials/trial-groups.ts';
import { trialShelf } from '../../server/src/core/trials/trial-shelf.ts';
import { arbitraryTrials, type TrialBench } from '../harness/arbitrary-trials.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';

function planOf({ snapshot, decided }: TrialBench) {
  return planTrials('tern', decided, snapshot);
}

/** The weights of all candidates and of none of them, the largest first. */
function weightsOf({ weights, none }: WeighedPartitions): number[] {
  return [...weights.map(({ weight }) => weight).sort((a, b) => b - a), none];
}

describe('plan of trials', () => {
  it('what a trial is expected to tell is what weighing again after each result gives', () => {
    let seen = 0;
    assertLaw(
      40,
      fc.property(arbitraryTrials, (bench) => {
        const { snapshot, decided } = bench;
        // Else the first trial with a ROM left in place changes what is believed beforehand.
        fc.pre(decided.some(({ swap }) => romTravels(swap) === false));
        const { trials } = planOf(bench);
        const { groups } = trialGroups(trialShelf('tern', snapshot), decided, snapshot);
        const before = weightsOf(weighPartitions(decided, groups));
        for (const { swap, works, information, after: believedAfter } of trials.slice(0, 3)) {
          const { pair } =
            groups.find((group) => group.swap === swap) ?? groups.find(({ swap: one }) => sameIds(one, swap))!;
          const results = ([true, false] as const).map((worked) => {
            const made: DecidedSwap = { outcome: 'z', swap, pair, works: worked };
            const weighed = weightsOf(weighPartitions([...decided, made], groups));
            const foretold = believedAfter(worked ? 'works' : 'fails');
            const sorted = [...foretold.candidates].sort((a, b) => b - a);
            for (const [n, weight] of sorted.entries()) expect(weight).toBeCloseTo(weighed[n]!, 4);
            expect(foretold.none).toBeCloseTo(weighed.at(-1)!, 4);
            return weighed;
          });
          const [uncertain, ...left] = [before, ...results].map(entropy);
          expect(information).toBeCloseTo(uncertain! - works * left[0]! - (1 - works) * left[1]!, 3);
          seen++;
        }
      }),
    );
    expectOften(seen, 50);
  });

  it('trials stand in the order of what they are expected to tell', () => {
    assertLaw(
      40,
      fc.property(arbitraryTrials, (bench) => {
        const told = planOf(bench).trials.map(({ information }) => information);
        for (const [n, information] of told.slice(1).entries())
          expect(information).toBeLessThanOrEqual(told[n]! + 1e-5);
      }),
    );
  });

  it('the order of drives and outcomes changes nothing', () => {
    const shuffled = arbitraryTrials.chain((bench) =>
      fc.tuple(fc.constant(bench), fc.shuffledSubarray([...bench.decided], { minLength: bench.decided.length })),
    );
    assertLaw(
      30,
      fc.property(shuffled, ([bench, decided]) => {
        const shown = (plan: ReturnType<typeof planOf>) => ({
          ...plan,
          trials: plan.trials.map(({ after: believed, ...trial }) => ({
            ...trial,
            after: [believed('works'), believed('fails')],
          })),
        });
        expect(shown(planOf({ ...bench, decided }))).toEqual(shown(planOf(bench)));
      }),
    );
  });
});

function sameIds(a: DecidedSwap['swap'], b: DecidedSwap['swap']): boolean {
  return (
    (['patient', 'donor'] as const).every((side) => a[side].drive.id === b[side].drive.id) &&
    romTravels(a) === romTravels(b)
  );
}

function entropy(chances: readonly number[]): number {
  return chances.reduce((sum, chance) => (chance > 0 ? sum - chance * Math.log2(chance) : sum), 0);
}
