/**
 * What the laws say of a planned swap.
 * Laws (test/property/donor-verdict.property.test.ts):
 * - a donor is excluded if and only if a law is against it
 * - a donor that fits meets a law that promises it works, and none is against it
 * - learning a value never takes a donor out of the excluded, and never takes a promise away
 */
import { evaluate } from '../conditions/evaluate.ts';
import type { Swap } from '../conditions/swap.ts';
import { andAll, not, type Truth } from '../conditions/truth.ts';
import type { Rule } from '../reasoning/rule.ts';
import type { RulesInPlay, ScopedRule } from './rules-in-play.ts';

/** The groups of donors, best first. */
export const donorGroups = ['fits', 'open', 'excluded'] as const;

/** `fits`: a law says it works, and none is against it. `open`: none is against it. `excluded`: one is. */
export type DonorGroup = (typeof donorGroups)[number];

/** How a planned swap stands to the laws, each list by rule id. */
export interface DonorVerdict {
  readonly group: DonorGroup;
  /** Laws that say it does not work. */
  readonly against: readonly Rule[];
  /** Laws that say it works. */
  readonly promises: readonly Rule[];
  /** Laws that may say either, once more is known. */
  readonly undecided: readonly Rule[];
  /** Laws that say it comes no further than it has to. */
  readonly shortOf: readonly Rule[];
}

/** What the laws say of a swap. */
export function donorVerdict(swap: Swap, rules: RulesInPlay): DonorVerdict {
  const limits = rules.limits.map((scoped) => ({ ...scoped, truth: isAgainst(scoped, swap) }));
  const promises = rules.promises.map((scoped) => ({ ...scoped, truth: isMet(scoped, swap) }));
  const against = withTruth(limits, true);
  const met = withTruth(promises, true);
  return {
    group: against.length > 0 ? 'excluded' : met.length > 0 ? 'fits' : 'open',
    against,
    promises: met,
    undecided: withTruth([...limits, ...promises], undefined),
    shortOf: rules.limitsAbove.flatMap((scoped) => (isAgainst(scoped, swap) === true ? scoped.rule : [])),
  };
}

function withTruth(list: readonly { readonly rule: Rule; readonly truth: Truth }[], wanted: Truth): Rule[] {
  return list.flatMap(({ rule, truth }) => (truth === wanted ? rule : []));
}

/** Whether a `needs` fails or a `prevents` holds. */
function isAgainst({ rule, inScope }: ScopedRule, swap: Swap): Truth {
  const holds = evaluate(rule.when, swap);
  return andAll([inScope, rule.claim === 'needs' ? not(holds) : holds]);
}

function isMet({ rule, inScope }: ScopedRule, swap: Swap): Truth {
  return andAll([inScope, evaluate(rule.when, swap)]);
}
