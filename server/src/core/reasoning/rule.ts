import { madeSpan, spanAccepts } from '../conditions/evaluate.ts';
import { type Formula, toFormula } from '../conditions/formula.ts';
import type { Side } from '../conditions/swap.ts';
import { andAll, type Truth } from '../conditions/truth.ts';
import { type Derivation, derive } from '../index/derivation.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { replaceSorted } from '../index/sorted.ts';
import { hasUnusable, isRetracted, type RuleRecord } from '../model/record.ts';
import type { Claim } from '../terms/claims.ts';
import type { Severity } from '../terms/severities.ts';
import type { Stage } from '../terms/stages.ts';

/** A rule that can be applied: its claim, its condition as a formula, and the stage it is about. */
export interface Rule {
  readonly record: RuleRecord;
  readonly claim: Claim;
  readonly stage: Stage;
  readonly when: Formula;
  /** Share of swaps for which the claim is said to hold, above 0 and at most 1; undefined makes it a law. */
  readonly atLeast: number | undefined;
  /** Outcomes set aside, by id. */
  readonly exceptions: ReadonlySet<string>;
}

/** Keys whose absence says something definite: a rule that has one of them in an unreadable state is left alone. */
const essential = ['claim', 'when', 'stage', 'applies_to', 'at_least', 'exceptions'] as const;

/**
 * The rule of a record, or undefined where it is retracted or something it rests on could not be read: a rule that may say less or
 * more than its author wrote would blame the wrong records.
 */
export function toRule(record: RuleRecord, worksAt: Stage): Rule | undefined {
  const { claim, when, stage, at_least: atLeast, exceptions = [] } = record.data;
  if (claim === undefined || when === undefined || isRetracted(record)) return undefined;
  if (essential.some((key) => hasUnusable(record, key))) return undefined;
  const excepted = exceptions.flatMap((exception) => exception.outcome ?? []);
  if (excepted.length < exceptions.length) return undefined;
  return {
    record,
    claim,
    stage: stage ?? worksAt,
    when: toFormula(when, ['when']),
    atLeast,
    exceptions: new Set(excepted),
  };
}

/** The rules of a base that can be applied. */
export const rules: Derivation<readonly Rule[]> = {
  name: 'rules',
  *compute(snapshot) {
    const found: Rule[] = [];
    for (const record of snapshot.records('rule')) {
      const rule = toRule(record, snapshot.config.worksAt);
      if (rule) found.push(rule);
      yield;
    }
    return found;
  },
  update(value, { after, records }) {
    const ids = records.flatMap(({ kind, id }) => (kind === 'rule' ? id : []));
    return replaceSorted(value, ids, ruleId, (id) => {
      const record = after.find('rule', id);
      return record && toRule(record, after.config.worksAt);
    });
  },
};

/** The rules of a base that can be applied, by id. */
export function rulesOf(snapshot: Snapshot): readonly Rule[] {
  return derive(rules, snapshot);
}

/** The id of a rule's record. */
export function ruleId({ record }: Rule): string {
  return record.id;
}

/** Whether a swap with this patient lies in the rule's scope. Absent or empty entries leave everything in. */
export function isInScope(rule: Rule, patient: Side): Truth {
  const { families = [], makers = [], made } = rule.record.data.applies_to ?? {};
  return andAll([
    families.length === 0 ? true : listed(families, patient.drive.data.family),
    makers.length === 0 ? true : listed(makers, patient.family?.data.maker),
    made === undefined ? true : spanAccepts(madeSpan(patient), { from: made.from, to: made.to }),
  ]);
}

/** Findings that rest on a rule are errors only where the rule was measured or is the maker's word. */
export function severityOf(rules: readonly Rule[]): Severity {
  const isFirm = ({ record: { data } }: Rule): boolean => data.basis === 'measured' || data.basis === 'maker_document';
  return rules.every(isFirm) ? 'error' : 'warning';
}

function listed(ids: readonly string[], id: string | undefined): Truth {
  return id === undefined ? undefined : ids.includes(id);
}
