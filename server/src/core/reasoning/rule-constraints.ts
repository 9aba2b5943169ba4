import { conditionConstraint, madeAccepts } from '../solver/condition-constraint.ts';
import { all, type Constraint, isIn, not } from '../solver/terms.ts';
import { foldText } from '../text/fold.ts';
import { makerSlot, possibleTerms, sideSlot } from './possible-swap.ts';
import type { Rule } from './rule.ts';

/** That a possible swap lies in a rule's scope. */
export function scopeConstraint({ record }: Rule): Constraint {
  const { families = [], makers = [], made } = record.data.applies_to ?? {};
  return all(
    ...(families.length === 0 ? [] : [isIn(sideSlot('patient', 'family'), { anyOf: families.map(foldText) })]),
    ...(makers.length === 0 ? [] : [isIn(makerSlot, { anyOf: makers.map(foldText) })]),
    ...(made === undefined ? [] : [madeAccepts(sideSlot('patient', 'made'), { from: made.from, to: made.to })]),
  );
}

/** That a possible swap meets a rule's condition. */
export function whenConstraint({ when }: Rule): Constraint {
  return conditionConstraint(when, possibleTerms);
}

/** That a possible swap is one a rule speaks out on: it fails a `needs`, or it meets an `enough` or `prevents`. */
export function verdictConstraint(rule: Rule): Constraint {
  const when = whenConstraint(rule);
  return all(scopeConstraint(rule), rule.claim === 'needs' ? not(when) : when);
}
