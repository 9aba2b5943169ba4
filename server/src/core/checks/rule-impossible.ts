import { describeFormula } from '../conditions/describe.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { Rule } from '../reasoning/rule.ts';
import { type Flaw, relationsOfRules, ruleRelations } from '../reasoning/rule-relations.ts';
import { defineCheck } from './define-check.ts';
import { exampleBase } from './example-base.ts';

/** A rule whose condition nothing can meet, or that nothing can break. */
export const ruleImpossible = defineCheck({
  check: 'rule-impossible',
  group: 'across',
  severity: 'warning',
  scope: 'base',
  restsOn: [relationsOfRules],
  why: 'A slip in a condition can leave a rule that nothing meets or nothing breaks. It never shows in an outcome, and meanwhile everyone believes that the matter is looked after.',
  examples: () => [
    {
      title: 'Equal revisions of different boards',
      files: {
        ...exampleBase,
        'rules/tern.yaml': `kind: rule
id: tern-boards
claim: needs
#      ^^^^^ rule-impossible: Rule \`tern-boards\` would let nothing work: no swap in its scope can meet \`same: [rev], different: [board]\`.
when: {same: [rev], different: [board]}
`,
      },
    },
    {
      title: 'A family that keeps its adaptives on the platters',
      files: {
        ...exampleBase,
        'rules/tern.yaml': `kind: rule
id: tern-adaptives
applies_to: {families: [tern-2]}
claim: needs
#      ^^^^^ rule-impossible: Rule \`tern-adaptives\` can never be broken: every swap in its scope meets \`rom_travels: true\`.
when: {rom_travels: true}
`,
      },
    },
    {
      title: 'Where the family is not recorded, nobody knows that',
      files: {
        ...exampleBase,
        'rules/tern.yaml': `kind: rule
id: tern-adaptives
claim: needs
#      ^^^^^ rule-untested: Rule \`tern-adaptives\` is untested: no recorded outcome in its scope decides it at \`reads\`.
when: {rom_travels: true}
`,
      },
    },
  ],
  *run(snapshot: Snapshot) {
    for (const { rule, flaw } of ruleRelations(snapshot).impossible) {
      yield {
        at: { record: rule.record, path: ['claim'], side: 'value' },
        message: `Rule \`${rule.record.id}\` ${describeFlaw(rule, flaw)}.`,
      };
    }
  },
});

function describeFlaw({ claim, when }: Rule, flaw: Flaw): string {
  const condition = `\`${describeFormula(when)}\``;
  switch (flaw) {
    case 'scope':
      return 'speaks of no patient: none can lie in its scope';
    case 'never-met':
      return claim === 'needs'
        ? `would let nothing work: no swap in its scope can meet ${condition}`
        : `can never be broken: no swap in its scope can meet ${condition}`;
    case 'never-broken':
      return `can never be broken: every swap in its scope meets ${condition}`;
  }
}
