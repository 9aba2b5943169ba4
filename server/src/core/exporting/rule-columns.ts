import { findSorted } from '../index/sorted.ts';
import { type Rule, ruleId, rulesOf } from '../reasoning/rule.ts';
import { stages } from '../terms/stages.ts';
import type { Recorded } from './record-tables.ts';
import type { ColumnOf } from './table.ts';

type RuleRecorded = Recorded<'rule'>;

/** What follows for a rule from the base it stands in. */
export const ruleColumns: readonly ColumnOf<RuleRecorded>[] = [
  {
    name: 'is_applied',
    type: 'boolean',
    describes: 'Whether outcomes are held against the rule: not where it is retracted or cannot be read in full.',
    read: (item) => appliedRule(item) !== undefined,
  },
  {
    name: 'judged_at',
    type: 'text',
    describes: "The stage it is judged at: its own, else the base's `works_at`; null where it is not applied.",
    values: stages.map(({ name }) => name),
    read: (item) => appliedRule(item)?.stage,
  },
];

function appliedRule({ record, source }: RuleRecorded): Rule | undefined {
  return findSorted(rulesOf(source.snapshot), record.id, ruleId);
}
