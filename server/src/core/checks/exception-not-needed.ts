import type { Snapshot } from '../index/snapshot.ts';
import { jointLaws } from '../reasoning/joint-laws.ts';
import { type Excess, type ExcessException, excessExceptions } from '../reasoning/needed-exceptions.ts';
import type { Rule } from '../reasoning/rule.ts';
import type { Path } from '../syntax/tape.ts';
import { evidenceTable } from '../verdicts/evidence.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleOutcome, examplePair } from './example-base.ts';

const ruleWithoutException = `kind: rule
id: tern-site
applies_to: {families: [tern-2]}
claim: needs
when: {same: [site]}
`;

/** An exception that makes no difference. */
export const exceptionNotNeeded = defineCheck({
  check: 'exception-not-needed',
  group: 'across',
  severity: 'warning',
  scope: 'base',
  restsOn: [jointLaws, evidenceTable],
  why: 'An exception hides an outcome from its rule. One that is not needed takes support from the rule, and will hide it when the outcome is corrected.',
  examples: () => [
    {
      title: 'The two drives are of one site, as the rule wants it',
      files: {
        ...sites('North Quay', 'North Quay'),
        'rules/tern.yaml': `${ruleWithoutException}exceptions:
  - outcome: one
#            ^^^ exception-not-needed: Rule \`tern-site\` needs no exception for outcome \`one\`, which supports it.
    because: It was tried twice.
`,
      },
    },
    {
      title: 'Without the exception the outcome would break the rule',
      files: {
        ...sites('North Quay', 'South Quay'),
        'rules/tern.yaml': `${ruleWithoutException}exceptions: [{outcome: one, because: It was tried twice.}]\n`,
      },
    },
  ],
  *run(snapshot: Snapshot) {
    for (const excess of excessExceptions(snapshot)) yield describe(excess);
  },
});

function sites(patient: string, donor: string): Record<string, string> {
  return {
    ...examplePair,
    'swaplore.yaml': 'swaplore: 1\nseverity: {rule-untested: off}\n',
    'drives/tern.yaml': `kind: drive\nid: d-0117\nfamily: tern-2\nsite: ${patient}\n---\nkind: drive\nid: d-0118\nfamily: tern-2\nsite: ${donor}\n`,
    'outcomes/one.yaml': exampleOutcome(''),
  };
}

function describe({ rule, position, outcome, because }: ExcessException): Draft {
  return {
    at: { record: rule.record, path: ['exceptions', position, 'outcome'], side: 'value' },
    message: `Rule \`${rule.record.id}\` needs no exception for outcome \`${outcome}\`, which ${reason(because, rule.stage)}.`,
    help: 'Remove the exception, or correct the outcome where it was meant to stand against the rule.',
    fixes: [
      { title: 'Remove the exception', kind: 'ask', changes: [{ intent: 'remove', path: pathOf(rule, position) }] },
    ],
  };
}

/** Of a list with one exception all of it goes. */
function pathOf({ record }: Rule, position: number): Path {
  return record.data.exceptions?.length === 1 ? ['exceptions'] : ['exceptions', position];
}

function reason(because: Excess, stage: string): string {
  switch (because) {
    case 'retracted':
      return 'is retracted and counts nowhere';
    case 'out of scope':
      return 'does not lie in its scope';
    case 'support':
      return 'supports it';
    case 'neutral':
      return 'it says nothing about';
    case 'inconclusive':
      return `proves nothing at \`${stage}\``;
    case 'open':
      return 'nothing recorded sets against it';
  }
}
