import type { Side } from '../conditions/swap.ts';
import type { Truth } from '../conditions/truth.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { namesUnknown } from '../reasoning/names-unknown.ts';
import { isInScope, type Rule, rulesOf } from '../reasoning/rule.ts';
import { isAtLeast } from '../terms/stages.ts';

/** A rule with whether the patient lies in its scope: true or not known. */
export interface ScopedRule {
  readonly rule: Rule;
  readonly inScope: Truth;
}

/** What a patient's rules are asked for, each list by id. Rules that name something unrecorded are in none. */
export interface RulesInPlay {
  /** `needs` and `prevents` laws of the stage at which a swap works, and below: what breaks one does not work. */
  readonly limits: readonly ScopedRule[];
  /** The same of stages above: what breaks one may work, and comes no further. */
  readonly limitsAbove: readonly ScopedRule[];
  /** `enough` laws of that stage and above: what meets one works. */
  readonly promises: readonly ScopedRule[];
  /** All rules whose scope the patient is known to lie in, rates included: what they speak of tells swaps apart. */
  readonly all: readonly Rule[];
}

/** The rules that may say something of a swap with this patient. */
export function rulesInPlay(patient: Side, snapshot: Snapshot): RulesInPlay {
  const { worksAt } = snapshot.config;
  const scoped = rulesOf(snapshot)
    .map((rule) => ({ rule, inScope: isInScope(rule, patient) }))
    .filter(({ rule, inScope }) => inScope !== false && !namesUnknown(rule, snapshot));
  const laws = scoped.filter(({ rule }) => rule.atLeast === undefined);
  const limits = laws.filter(({ rule }) => rule.claim !== 'enough');
  return {
    limits: limits.filter(({ rule }) => isAtLeast(worksAt, rule.stage)),
    limitsAbove: limits.filter(({ rule }) => !isAtLeast(worksAt, rule.stage)),
    promises: laws.filter(({ rule }) => rule.claim === 'enough' && isAtLeast(rule.stage, worksAt)),
    all: scoped.filter(({ inScope }) => inScope === true).map(({ rule }) => rule),
  };
}
