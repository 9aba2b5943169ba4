import { evaluate } from '../conditions/evaluate.ts';
import type { Claim } from './claims-of.ts';
import type { DecidedSwap } from './decided-swaps.ts';

/** How decided outcomes stand to a claim, each list by id. */
export interface Standing {
  /** Outcomes that came out the other way than the claim has it. */
  readonly against: readonly string[];
  /** Outcomes of which its condition is not known. */
  readonly notKnown: readonly string[];
}

/** The outcomes that speak against a claim, and those of which it says nothing. */
export function outcomesAgainst({ formula, holds }: Claim, decided: readonly DecidedSwap[]): Standing {
  const stands = decided.map(({ outcome, swap, works }) => {
    const truth = evaluate(formula, swap);
    return { outcome, isKnown: truth !== undefined, isAgainst: (truth === works) !== (holds === 'works') };
  });
  return {
    against: stands.flatMap(({ outcome, isKnown, isAgainst }) => (isKnown && isAgainst ? outcome : [])),
    notKnown: stands.flatMap(({ outcome, isKnown }) => (isKnown ? [] : outcome)),
  };
}
