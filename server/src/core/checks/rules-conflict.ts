import type { Snapshot } from '../index/snapshot.ts';
import { describeWitness } from '../reasoning/describe-witness.ts';
import { type Rule, severityOf } from '../reasoning/rule.ts';
import { type Conflict, relationsOfRules, ruleRelations } from '../reasoning/rule-relations.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleBase } from './example-base.ts';

const padsAndFirmware = {
  ...exampleBase,
  'swaplore.yaml': 'swaplore: 1\nseverity: {rule-untested: off}\n',
};

/** Two rules that no swap of a certain kind can leave both right. */
export const rulesConflict = defineCheck({
  check: 'rules-conflict',
  group: 'across',
  severity: 'error',
  alsoSeverity: 'warning',
  scope: 'base',
  restsOn: [relationsOfRules],
  why: 'One rule promises that a swap works which another rules out, so one of them is wrong, and whoever meets such a swap gets two answers. No recorded outcome need show it: it follows from what the rules say.',
  examples: () => [
    {
      title: 'Equal firmware is said to be enough, though the pads have to meet',
      files: {
        ...padsAndFirmware,
        'rules/tern.yaml': `kind: rule
id: tern-firmware
applies_to: {families: [tern-2]}
claim: enough
when: {same: [firmware]}
basis: measured
---
kind: rule
id: tern-pads
applies_to: {families: [tern-2]}
claim: prevents
#      ^^^^^^^^ rules-conflict: Rules \`tern-firmware\` and \`tern-pads\` cannot both hold: of a swap with family \`tern-2\`, the same \`firmware\` on both, two different boards and \`contact_pads\` \`0\` on the patient and \`1\` on the donor, the one says that it works at \`reads\`, the other that it cannot work at \`ready\`.
when: {different: [contact_pads]}
stage: ready
basis: measured
`,
      },
    },
    {
      title: 'What is enough includes what is needed',
      files: {
        ...padsAndFirmware,
        'rules/tern.yaml': `kind: rule
id: tern-firmware
applies_to: {families: [tern-2]}
claim: enough
when: {same: [firmware, contact_pads]}
basis: measured
---
kind: rule
id: tern-pads
applies_to: {families: [tern-2]}
claim: prevents
when: {different: [contact_pads]}
stage: ready
basis: measured
`,
      },
    },
    {
      title: 'Nothing is promised for the stage that is prevented',
      files: {
        ...padsAndFirmware,
        'rules/tern.yaml': `kind: rule
id: tern-firmware
applies_to: {families: [tern-2]}
claim: enough
when: {same: [firmware]}
stage: ready
---
kind: rule
id: tern-heads
applies_to: {families: [tern-2]}
claim: prevents
when: {different: [heads]}
`,
      },
    },
  ],
  *run(snapshot: Snapshot) {
    for (const conflict of ruleRelations(snapshot).conflicts) yield describe(conflict);
  },
});

function describe({ enough, other, witness }: Conflict): Draft {
  const [earlier, later] = enough.record.id < other.record.id ? [enough, other] : [other, enough];
  return {
    at: { record: later.record, path: ['claim'], side: 'value' },
    severity: severityOf([enough, other]),
    message: `Rules \`${earlier.record.id}\` and \`${later.record.id}\` cannot both hold: of ${describeWitness(witness)}, the one says that it ${says(earlier)}, the other that it ${says(later)}.`,
    help: 'Narrow one of them until it says nothing of such a swap, or make it a rate with `at_least`.',
    related: [
      { at: { record: earlier.record, path: ['claim'], side: 'value' }, message: `Rule \`${earlier.record.id}\`.` },
    ],
  };
}

function says({ claim, stage }: Rule): string {
  return claim === 'enough' ? `works at \`${stage}\`` : `cannot work at \`${stage}\``;
}
