/** Ways to choose the next trial, and how many trials each takes until the cause is found. */
import { evaluate } from '../../../server/src/core/conditions/evaluate.ts';
import { toFormula } from '../../../server/src/core/conditions/formula.ts';
import type { Swap } from '../../../server/src/core/conditions/swap.ts';
import type { DecidedSwap } from '../../../server/src/core/explanations/decided-swaps.ts';
import { conditionOf, type Entry } from '../../../server/src/core/explanations/entry.ts';
import { planTrials, type TrialPlan } from '../../../server/src/core/trials/plan-trials.ts';
import { pairName } from '../../../server/src/core/verdicts/pair-name.ts';
import { at, type Random } from '../base/random.ts';
import type { Shop } from './shops.ts';

/** How the next trial is chosen. */
export type Strategy = 'plan' | 'random' | 'closest';

/** What is believed that a cause has to reach. */
const sure = 0.9;

/** What a shop ends with. */
export interface Story {
  /** Trials until the cause was believed to 0.9; undefined where it never was. */
  readonly found: number | undefined;
  /** The plan after the last of them. */
  readonly last: TrialPlan;
  readonly decided: readonly DecidedSwap[];
}

/** Tries swaps of a shop until the cause is believed, or so many times. Results follow from the random numbers. */
export function play(
  shop: Shop,
  { strategy, most, random }: { strategy: Strategy; most: number; random: Random },
): Story {
  const decided: DecidedSwap[] = [];
  for (;;) {
    const last = planTrials('tern', decided, shop.snapshot);
    const isFound = shop.cause !== undefined && weightOfCause(shop.cause, last, decided) >= sure;
    const next = isFound || decided.length === most ? undefined : choose(strategy, last, random);
    if (!next) return { found: isFound ? decided.length : undefined, last, decided };
    const pair = pairName(next.patient.drive.id, next.donor.drive.id);
    decided.push({
      outcome: `o-${String(decided.length).padStart(3, '0')}`,
      swap: next,
      pair,
      works: shop.works(next, random),
    });
  }
}

function choose(strategy: Strategy, { trials }: TrialPlan, random: Random): Swap | undefined {
  if (trials.length === 0) return undefined;
  switch (strategy) {
    case 'plan':
      return at(trials, 0).swap;
    case 'random':
      // Any swap of the shelf, each as likely as the next.
      return random.weighted(trials.map(({ swaps, swap }) => [swaps, swap] as const));
    case 'closest':
      return [...trials].sort((a, b) => b.matching - a.matching)[0]?.swap;
  }
}

/** How far those claims are believed that say the same of every swap as the cause does, decided or on the shelf. */
function weightOfCause(cause: readonly Entry[], plan: TrialPlan, decided: readonly DecidedSwap[]): number {
  const formula = toFormula(conditionOf(cause), []);
  const swaps = [...decided.map(({ swap }) => swap), ...plan.trials.map(({ swap }) => swap)];
  const wanted = swaps.map((swap) => evaluate(formula, swap));
  const right = plan.candidates.find(({ claim }) =>
    swaps.every((swap, n) => (evaluate(claim.formula, swap) === wanted[n]) === (claim.holds === 'works')),
  );
  return right?.weight ?? 0;
}
