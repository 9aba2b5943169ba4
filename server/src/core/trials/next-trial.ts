import type { Claim } from '../explanations/claims-of.ts';
import { type DecidedSwap, decidedSwaps } from '../explanations/decided-swaps.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type Candidate, planTrials, type TrialPlan } from './plan-trials.ts';
import { type Wanted, whatToLookFor } from './what-to-look-for.ts';

/** Two explanations that no swap of the shelf tells apart. */
export interface Untold {
  readonly claims: readonly [Claim, Claim];
  /** The pair that would; undefined where there can be none. */
  readonly lookFor: Wanted | undefined;
}

/** The next trial of a family, and what was decided before. */
export interface NextTrial extends TrialPlan {
  readonly family: string;
  readonly decided: readonly DecidedSwap[];
  /** Outcomes that are inconclusive. */
  readonly open: number;
  /** Among the explanations believed most. */
  readonly untold: readonly Untold[];
}

/** Weight from which an explanation is worth words of its own. */
export const leastWorthWords = 0.05;

/** Bits below which a trial is not worth its while. Source: our own. */
export const leastWorthTrying = 0.01;

/** Most pairs of explanations that are looked at. */
const mostUntold = 6;

/** What to try next for a family, by its id. */
export function nextTrial(family: string, snapshot: Snapshot): NextTrial {
  const { decided, open } = decidedSwaps(family, snapshot);
  const plan = planTrials(family, decided, snapshot);
  return { ...plan, ...{ family, decided, open }, untold: untoldBy(plan, snapshot) };
}

/** Explanations that stand and that no swap tells apart; where no trial tells anything, also the first two of different results. */
function untoldBy({ candidates, trials }: TrialPlan, snapshot: Snapshot): readonly Untold[] {
  const standing = candidates.filter(({ weight }) => weight >= leastWorthWords);
  const alike = standing.flatMap(({ claim, equals }) => equals.map((equal) => [claim, equal] as const));
  const [first, second] = standing;
  const isIdle = (trials[0]?.information ?? 0) < leastWorthTrying;
  const apart = isIdle && first && second ? [[first.claim, second.claim] as const] : [];
  return [...apart, ...alike]
    .slice(0, mostUntold)
    .map((claims) => ({ claims, lookFor: whatToLookFor(...claims, snapshot) }));
}

/** The explanations that are worth words: those believed most, at least one where there is any. */
export function worthWords(candidates: readonly Candidate[], most: number): readonly Candidate[] {
  return candidates.slice(0, most).filter(({ weight }, n) => n === 0 || weight >= leastWorthWords);
}
