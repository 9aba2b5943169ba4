/** The posterior of `explain` and `plan` against one that enumerates every explanation, both ways round, and rates by the hundred. */
import { expect, it } from 'vitest';
import { evaluate } from '../../server/src/core/conditions/evaluate.ts';
import type { DecidedSwap } from '../../server/src/core/explanations/decided-swaps.ts';
import { explainSwaps, type Hypothesis } from '../../server/src/core/explanations/explain-swaps.ts';
import { decidedOf } from '../harness/arbitrary-decided.ts';

/** Swaps of drives that differ in firmware and heads; no pair twice, and of one nobody knows the firmware. */
const decided = decidedOf(
  [
    'firmware: F1\nheads: 2\n',
    'firmware: F1\nheads: 4\n',
    'firmware: F2\nheads: 2\n',
    'firmware: F2\nheads: 4\n',
    'heads: 2\n',
    'firmware: F1\nheads: 2\n',
  ],
  [
    { patient: 0, donor: 1, rom: 'left', works: true },
    { patient: 0, donor: 2, rom: 'chip_moved', works: false },
    { patient: 1, donor: 3, rom: 'left', works: false },
    { patient: 2, donor: 3, rom: 'chip_moved', works: true },
    { patient: 4, donor: 0, rom: 'left', works: true },
    { patient: 5, donor: 0, rom: 'left', works: true },
  ],
);

/** Steps of the rates that are tried: the mean over them stands for the integral. Source: the midpoint rule. */
const steps = 20_000;

/** The mean chance of so many successes and failures over all rates. */
function meanChance(worked: number, failed: number): number {
  let sum = 0;
  for (let n = 0; n < steps; n++) {
    const rate = (n + 0.5) / steps;
    sum += rate ** worked * (1 - rate) ** failed;
  }
  return sum / steps;
}

/** The chance of all results if a condition is why, one way round; what it says nothing of has a rate of its own. */
function chanceIf({ claim }: Hypothesis, swaps: readonly DecidedSwap[], worksWhereItHolds: boolean): number {
  let [chance, worked, failed] = [1, 0, 0];
  for (const { swap, works } of swaps) {
    const truth = evaluate(claim.formula, swap);
    if (truth === undefined && works) worked++;
    else if (truth === undefined) failed++;
    else chance *= (truth === worksWhereItHolds) === works ? 0.95 : 0.05;
  }
  return chance * meanChance(worked, failed);
}

it('weighs explanations as enumerating them does', () => {
  const { hypotheses, none } = explainSwaps(decided);
  const entries = ({ claim: { condition } }: Hypothesis) =>
    [condition.same, condition.different, condition.rom_travels].flat().filter((one) => one !== undefined).length +
    2 * [condition.patient, condition.donor].flatMap((side) => Object.keys(side ?? {})).length;
  const sizes = [...new Set(hypotheses.map(entries))];
  const ofAllSizes = sizes.reduce((sum, size) => sum + 4 ** -size, 0);
  const joint = hypotheses.map((one) => {
    const size = entries(one);
    const alike = hypotheses.filter((other) => entries(other) === size).length;
    const prior = (0.5 * 4 ** -size) / ofAllSizes / alike;
    return prior * 0.5 * (chanceIf(one, decided, true) + chanceIf(one, decided, false));
  });
  const worked = decided.filter(({ works }) => works).length;
  const jointOfNone = 0.5 * meanChance(worked, decided.length - worked);
  const all = joint.reduce((sum, one) => sum + one, jointOfNone);
  expect(hypotheses.length).toBeGreaterThan(4);
  for (const [n, { weight }] of hypotheses.entries()) expect(weight).toBeCloseTo(joint[n]! / all, 6);
  expect(none).toBeCloseTo(jointOfNone / all, 6);
});
