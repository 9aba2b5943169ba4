/**
 * How each outcome stands to each rule.
 * Laws (test/property/rule-results.property.test.ts):
 * - every outcome in scope stands in exactly one relation to a rule
 * - an outcome is against a rule only if both its verdict and the condition are decided
 * - an exception takes an outcome out of the counts and changes no other
 */
import { evaluate } from '../conditions/evaluate.ts';
import type { Truth } from '../conditions/truth.ts';
import { type Derivation, derive, type Steps } from '../index/derivation.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { differingIds, findSorted, replaceSorted } from '../index/sorted.ts';
import type { Claim } from '../terms/claims.ts';
import { drained } from '../terms/drained.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { allEvidence, changedEvidence, type Evidence, outcomeIdOf } from '../verdicts/evidence.ts';
import { evidenceByFamily, evidenceTableByFamily, familyOf } from '../verdicts/evidence-by-family.ts';
import { isInScope, type Rule, ruleId, rules, rulesOf } from './rule.ts';

/** In which relations an outcome may stand to a rule. */
export const relations = ['support', 'against', 'neutral', 'undecided', 'excepted'] as const;

/** How one outcome stands to one rule. */
export type Relation = (typeof relations)[number];

/** A rule with the outcomes in its scope, each list by outcome id. Those out of scope are in none. */
export interface RuleResult {
  readonly rule: Rule;
  readonly support: readonly Evidence[];
  readonly against: readonly Evidence[];
  /** Decided outcomes about which the claim says nothing. */
  readonly neutral: readonly Evidence[];
  readonly undecided: readonly Evidence[];
  readonly excepted: readonly Evidence[];
}

/** The relations that are counted wherever a rule is shown. */
export const countedRelations = ['support', 'against', 'undecided', 'excepted'] as const;

/** The number of outcomes that stand to a rule in each of these ways. */
export type RuleCounts = Readonly<Record<(typeof countedRelations)[number], number>>;

type Lists = Readonly<Record<Relation, readonly Evidence[]>>;

/** The results of every rule that can be applied. */
export const resultsOfRules: Derivation<readonly RuleResult[]> = {
  name: 'rule results',
  restsOn: [rules, evidenceTableByFamily],
  *compute(snapshot) {
    const results: RuleResult[] = [];
    for (const rule of rulesOf(snapshot)) results.push(yield* computeResult(rule, candidatesOf(rule, snapshot)));
    return results;
  },
  update(value, changes) {
    const { before, after } = changes;
    const [old, evidence] = [allEvidence(before), allEvidence(after)];
    const ids = [...changedEvidence(changes)];
    const current = new Map(ids.map((id) => [id, findSorted(evidence, id, outcomeIdOf)]));
    const touched = [...ids.flatMap((id) => findSorted(old, id, outcomeIdOf) ?? []), ...current.values()];
    const patients = new Set(touched.flatMap((one) => (one ? [familyOf(one)] : [])));
    const kept = value.map((result) => (mayHold(result.rule, patients) ? replaceEvidence(result, current) : result));
    const others = differingIds(rulesOf(before), rulesOf(after), ruleId);
    return replaceSorted(kept, others, ruleIdOf, (id) => {
      const rule = findSorted(rulesOf(after), id, ruleId);
      return rule && drained(computeResult(rule, candidatesOf(rule, after)));
    });
  },
};

/** The results of every rule that can be applied, by rule id. */
export function ruleResults(snapshot: Snapshot): readonly RuleResult[] {
  return derive(resultsOfRules, snapshot);
}

/** The number of outcomes that stand to a rule in each way. */
export function countsOf({ support, against, undecided, excepted }: RuleResult): RuleCounts {
  return {
    support: support.length,
    against: against.length,
    undecided: undecided.length,
    excepted: excepted.length,
  };
}

function ruleIdOf({ rule }: RuleResult): string {
  return ruleId(rule);
}

/** How an outcome in scope stands to a claim: `works` at the rule's stage and the truth of its condition, both decided. */
export function relationOf(claim: Claim, works: boolean, condition: boolean): 'support' | 'against' | 'neutral' {
  switch (claim) {
    case 'needs':
      if (works) return condition ? 'support' : 'against';
      return condition ? 'neutral' : 'support';
    case 'enough':
      if (!condition) return 'neutral';
      return works ? 'support' : 'against';
    case 'prevents':
      if (works) return condition ? 'against' : 'support';
      return condition ? 'support' : 'neutral';
  }
}

/** How one outcome stands to one rule; undefined where it is out of scope. */
export function standing(rule: Rule, evidence: Evidence): Relation | undefined {
  const { swap, outcome } = evidence;
  const scope: Truth = swap ? isInScope(rule, swap.patient) : undefined;
  if (scope === false) return undefined;
  if (rule.exceptions.has(outcome.id)) return 'excepted';
  const verdict = evidence.verdicts[rule.stage];
  // A rate is judged over eligible outcomes only: successes are recorded without controls, failures seldom are.
  const isDecided = rule.atLeast === undefined ? verdict.result !== 'inconclusive' : verdict.isEligible;
  const condition = swap && evaluate(rule.when, swap);
  if (scope === undefined || condition === undefined || !isDecided) return 'undecided';
  return relationOf(rule.claim, verdict.result === 'works', condition);
}

/** The result with other evidence of some outcomes, or none, by outcome id; the same one where that changes nothing. */
function replaceEvidence(result: RuleResult, evidence: ReadonlyMap<string, Evidence | undefined>): RuleResult {
  const { rule } = result;
  const put = new Map(Array.from(evidence, ([id, one]) => [id, one && { one, relation: standing(rule, one) }]));
  const lists = relations.map((relation) =>
    replaceSorted(result[relation], put.keys(), outcomeIdOf, (id) => {
      const found = put.get(id);
      return found?.relation === relation ? found.one : undefined;
    }),
  );
  if (relations.every((relation, position) => lists[position] === result[relation])) return result;
  return { rule, ...(Object.fromEntries(relations.map((relation, position) => [relation, lists[position]])) as Lists) };
}

/** Outcomes held against a rule between two yields. */
const outcomesPerStep = 50;

function* computeResult(rule: Rule, candidates: readonly Evidence[]): Steps<RuleResult> {
  const lists: Record<Relation, Evidence[]> = { support: [], against: [], neutral: [], undecided: [], excepted: [] };
  for (const [position, evidence] of candidates.entries()) {
    if (position % outcomesPerStep === 0) yield;
    const relation = standing(rule, evidence);
    if (relation) lists[relation].push(evidence);
  }
  return { rule, ...lists };
}

/** Whether outcomes whose patients are of these families may lie in a rule's scope. */
function mayHold(rule: Rule, patients: ReadonlySet<string | undefined>): boolean {
  const families = rule.record.data.applies_to?.families ?? [];
  if (families.length === 0) return patients.size > 0;
  return patients.has(undefined) || families.some((family) => patients.has(family));
}

/** Outcomes that may lie in a rule's scope. Those whose patient has no readable family may lie in any. */
function candidatesOf(rule: Rule, snapshot: Snapshot): readonly Evidence[] {
  const families = rule.record.data.applies_to?.families ?? [];
  if (families.length === 0) return allEvidence(snapshot);
  const byFamily = evidenceByFamily(snapshot);
  const found = [undefined, ...new Set(families)].flatMap((family) => byFamily.get(family) ?? []);
  return found.sort((a, b) => byCodeUnits(a.outcome.id, b.outcome.id));
}
