import { evaluate } from '../conditions/evaluate.ts';
import type { Swap } from '../conditions/swap.ts';
import type { Truth } from '../conditions/truth.ts';
import type { Claim } from '../explanations/claims-of.ts';
import { type DecidedSwap, decidedSwaps } from '../explanations/decided-swaps.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type Candidate, type PlannedTrial, planTrials, type TrialPlan } from './plan-trials.ts';
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
const leastWorthWords = 0.05;

/** Bits below which a trial is not worth its while. Source: our own. */
export const leastWorthTrying = 0.01;

/** Most explanations of which that is asked. */
const mostStanding = 3;

/** Most pairs of explanations that are listed. */
const mostUntold = 3;

/** What to try next for a family, by its id. */
export function nextTrial(family: string, snapshot: Snapshot): NextTrial {
  const { decided, open } = decidedSwaps(family, snapshot);
  const plan = planTrials(family, decided, snapshot);
  return { ...plan, ...{ family, decided, open }, untold: untoldBy(plan, snapshot) };
}

/** Explanations that stand and that no swap of the shelf tells apart: those that came out apart so far first, then those that never did. */
function untoldBy({ candidates, trials }: TrialPlan, snapshot: Snapshot): readonly Untold[] {
  const standing = worthWords(candidates, mostStanding);
  const apart = standing.flatMap(({ claim: a }, n) =>
    standing.slice(n + 1).flatMap(({ claim: b }) => (isTold(a, b, trials) ? [] : [[a, b] as const])),
  );
  const alike = standing.flatMap(({ claim, equals }) => equals.map((equal) => [claim, equal] as const));
  return [...apart, ...alike]
    .slice(0, mostUntold)
    .map((claims) => ({ claims, lookFor: whatToLookFor(...claims, snapshot) }));
}

/** Whether of some swap the one claim says that it works and the other that it does not. */
function isTold(a: Claim, b: Claim, trials: readonly PlannedTrial[]): boolean {
  return trials.some(({ swap }) => {
    const [first, second] = [foretold(a, swap), foretold(b, swap)];
    return first !== undefined && second !== undefined && first !== second;
  });
}

function foretold({ formula, holds }: Claim, swap: Swap): Truth {
  const truth = evaluate(formula, swap);
  return truth === undefined ? undefined : truth === (holds === 'works');
}

/** The explanations that are worth words: those believed most, at least one where there is any. */
export function worthWords(candidates: readonly Candidate[], most: number): readonly Candidate[] {
  return candidates.slice(0, most).filter(({ weight }, n) => n === 0 || weight >= leastWorthWords);
}
