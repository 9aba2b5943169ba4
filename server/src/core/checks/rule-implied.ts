import type { Snapshot } from '../index/snapshot.ts';
import { type RuleRelations, relationsOfRules, ruleRelations } from '../reasoning/rule-relations.ts';
import { remembered } from '../terms/remembered.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleBase } from './example-base.ts';

const quiet = { ...exampleBase, 'swaplore.yaml': 'swaplore: 1\nseverity: {rule-untested: off}\n' };

/** A law that another one already lays down. */
export const ruleImplied = defineCheck({
  check: 'rule-implied',
  group: 'across',
  severity: 'info',
  scope: 'base',
  restsOn: [relationsOfRules],
  why: 'A rule that says nothing of its own is one more to keep right. Once the other is narrowed after a bad day, this one goes on saying what was found wrong; and evidence counted under both looks like twice as much.',
  examples: () => [
    {
      title: 'Two rules for one family, one of them about more patients and fewer keys',
      files: {
        ...quiet,
        'rules/tern.yaml': `kind: rule
id: tern-boards
claim: needs
when: {same: [board, rev]}
---
kind: rule
id: tern-young-boards
applies_to: {families: [tern-2], made: {from: 2012}}
claim: needs
#      ^^^^^ rule-implied: Rule \`tern-young-boards\` adds nothing to rule \`tern-boards\`: every swap that stands against the one stands against the other.
when: {same: [board]}
`,
      },
    },
    {
      title: 'The same thing said twice',
      files: {
        ...quiet,
        'rules/tern.yaml': `kind: rule
id: tern-chips
claim: needs
when: {same: [controller]}
---
kind: rule
id: tern-controllers
claim: prevents
#      ^^^^^^^^ rule-implied: Rule \`tern-controllers\` says the same as rule \`tern-chips\`: every swap that stands against the one stands against the other.
when: {different: [controller]}
`,
      },
    },
    {
      title: 'Which stage it is about makes a difference',
      files: {
        ...quiet,
        'rules/tern.yaml': `kind: rule
id: tern-chips
claim: needs
when: {same: [controller]}
stage: ready
---
kind: rule
id: tern-chips-and-boards
claim: needs
when: {same: [controller, board]}
`,
      },
    },
  ],
  *run(snapshot: Snapshot) {
    for (const implied of ruleRelations(snapshot).implied) yield draftOf(implied);
  },
});

/** Relations of rules stay the same objects for as long as nothing they rest on changes. */
const draftOf = remembered(({ rule, by, isEqual }: RuleRelations['implied'][number]): Draft => {
  const relation = isEqual ? 'says the same as' : 'adds nothing to';
  return {
    at: { record: rule.record, path: ['claim'], side: 'value' },
    message: `Rule \`${rule.record.id}\` ${relation} rule \`${by.record.id}\`: every swap that stands against the one stands against the other.`,
    related: [{ at: { record: by.record, path: ['claim'], side: 'value' }, message: `Rule \`${by.record.id}\`.` }],
  };
});
