import { describeReason } from '../conditions/describe.ts';
import { reasonsFor } from '../conditions/reasons.ts';
import type { Swap } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { claimWords } from '../reasoning/claim-words.ts';
import { type Rule, severityOf } from '../reasoning/rule.ts';
import { resultsOfRules, ruleResults } from '../reasoning/rule-results.ts';
import type { Evidence } from '../verdicts/evidence.ts';
import { isRuledOut } from '../verdicts/observed-limits.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleFamily } from './example-base.ts';

const harbour = {
  ...exampleFamily('adaptives: {stored_in: rom_chip}\n'),
  'drives/tern.yaml': 'kind: drive\nid: d-0117\nfamily: tern-2\n---\nkind: drive\nid: d-0118\nfamily: tern-2\n',
  'rules/tern.yaml':
    'kind: rule\nid: tern-rom-travels\napplies_to: {families: [tern-2]}\nclaim: needs\nwhen: {rom_travels: true}\nbasis: measured\n',
};

/** A recorded swap that a law says cannot be. */
export const outcomeBreaksRule = defineCheck({
  check: 'outcome-breaks-rule',
  group: 'across',
  severity: 'error',
  alsoSeverity: 'warning',
  scope: 'base',
  restsOn: [resultsOfRules],
  why: 'Either the record is wrong or the rule is. Until that is settled, the rule misleads whoever picks the next donor.',
  examples: () => [
    {
      title: 'Read with the ROM left behind, though the family is said to need it',
      files: {
        ...harbour,
        'outcomes/one.yaml': `kind: outcome
id: one
date: 2026-03-14
patient: d-0117
donor: d-0118
rom: left
reached: reads
#        ^^^^^ outcome-breaks-rule: Outcome \`one\` reached \`reads\`, but rule \`tern-rom-travels\` says that needs \`rom_travels: true\`: the ROM was \`left\` (this family keeps its adaptives in \`rom_chip\`).
result: works
`,
      },
    },
    {
      title: 'What was done about the ROM is not recorded, so nothing is broken',
      files: {
        ...harbour,
        'swaplore.yaml': 'swaplore: 1\nseverity: {rule-untested: off}\n',
        'outcomes/one.yaml':
          'kind: outcome\nid: one\ndate: 2026-03-14\npatient: d-0117\ndonor: d-0118\nreached: reads\nresult: works\n',
      },
    },
  ],
  *run(snapshot: Snapshot) {
    for (const { rule, against } of ruleResults(snapshot)) {
      if (rule.atLeast !== undefined) continue;
      for (const evidence of against) {
        if (evidence.swap && !restsOnFault(rule, evidence, snapshot))
          yield describeBreach(rule, evidence, evidence.swap);
      }
    }
  },
});

/** Whether a swap only breaks the rule by having worked, at a stage that its own observations rule out, which was reported. */
function restsOnFault({ claim, stage }: Rule, { outcome }: Evidence, snapshot: Snapshot): boolean {
  return claim !== 'enough' && isRuledOut(stage, outcome, snapshot);
}

function describeBreach(rule: Rule, { outcome }: Evidence, swap: Swap): Draft {
  const facts = reasonsFor(rule.when, swap).map((reason) => describeReason(reason, swap));
  const because = facts.length > 0 ? `: ${facts.join('; ')}` : '';
  return {
    at: { record: outcome, path: ['reached'], side: 'value' },
    severity: severityOf([rule]),
    message: `Outcome \`${outcome.id}\` ${seen(rule, outcome.data.reached ?? 'nothing')}, but rule \`${rule.record.id}\` says ${claimWords(rule, 'that')}${because}.`,
    help: 'Check the bench notes; correct the record, or give the rule an exception with its reason.',
    related: [{ at: { record: rule.record, path: ['claim'], side: 'value' }, message: `Rule \`${rule.record.id}\`.` }],
  };
}

function seen(rule: Rule, reached: string): string {
  return rule.claim === 'enough' ? `fails at \`${rule.stage}\` with every control in place` : `reached \`${reached}\``;
}
