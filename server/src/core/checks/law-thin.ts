import type { Snapshot } from '../index/snapshot.ts';
import { independentTally, type PairCount } from '../odds/count-pairs.ts';
import { exactLowerBound } from '../odds/exact-bounds.ts';
import { pairsInSupport } from '../odds/rule-trials.ts';
import { type RuleResult, resultsOfRules, ruleResults } from '../reasoning/rule-results.ts';
import { remembered } from '../terms/remembered.ts';
import { plural } from '../text/plural.ts';
import { rounded } from '../text/rounded.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleOutcome, examplePair } from './example-base.ts';

/** Independent pairs from which a law no longer counts as thin: five in a row leave 55 % at least. */
const enoughPairs = 5;

const lawOfBoards = 'kind: rule\nid: tern-any-board\nclaim: enough\nwhen: {rom_travels: true}\n';

/** A law that says something always works, on the strength of a few pairs. */
export const lawThin = defineCheck({
  check: 'law-thin',
  group: 'across',
  severity: 'info',
  scope: 'base',
  restsOn: [resultsOfRules],
  why: 'A law that says "this works" is used to pick donors as if it were certain. Where three pairs stand behind it, one swap in three may still fail without anything having been recorded wrongly. Pairs that share a drive count once, because a good board works on everything.',
  examples: () => [
    {
      title: 'One pair is all there is',
      files: {
        ...examplePair,
        'rules/tern.yaml': `kind: rule
id: tern-any-board
claim: enough
#      ^^^^^^ law-thin: Rule \`tern-any-board\` rests on 1 independent pair, which shows no more than that it holds for at least 5 % of swaps (exact lower bound at 95 %).
when: {rom_travels: true}
`,
        'outcomes/one.yaml': exampleOutcome(''),
      },
    },
    {
      title: 'As a rate it would promise no more than it can',
      files: {
        ...examplePair,
        'rules/tern.yaml': `${lawOfBoards}at_least: 0.6\n`,
        'outcomes/one.yaml': exampleOutcome('controls: {swapped_back: both_work}\n'),
      },
    },
    {
      title: 'Five pairs that share no drive',
      files: {
        ...examplePair,
        'rules/tern.yaml': lawOfBoards,
        ...Object.fromEntries(
          [1, 2, 3, 4, 5].flatMap((n) => [
            [
              `drives/${n}.yaml`,
              `kind: drive\nid: p-${n}\nfamily: tern-2\n---\nkind: drive\nid: q-${n}\nfamily: tern-2\n`,
            ],
            [
              `outcomes/${n}.yaml`,
              `kind: outcome\nid: o-${n}\ndate: 2026-03-14\npatient: p-${n}\ndonor: q-${n}\nrom: left\nreached: reads\nresult: works\n`,
            ],
          ]),
        ),
      },
    },
  ],
  *run(snapshot: Snapshot) {
    for (const result of ruleResults(snapshot)) yield* draftsOf(result);
  },
});

/** A result stays the same object for as long as nothing in the rule's scope changes. */
const draftsOf = remembered((result: RuleResult): readonly Draft[] => {
  const { rule, support, against } = result;
  // What a broken law is worth is told by the outcome that breaks it.
  if (rule.claim !== 'enough' || rule.atLeast !== undefined || support.length === 0 || against.length > 0) return [];
  const count = pairsInSupport(result);
  return count.independentPairs < enoughPairs ? [describe(result, count)] : [];
});

function describe({ rule: { record }, support }: RuleResult, count: PairCount): Draft {
  const { pairs, drives, independentPairs } = count;
  const lower = exactLowerBound(independentTally(count), 0.95);
  const basis = plural(independentPairs, 'independent pair');
  const outOf = pairs > independentPairs ? ` (${pairs} pairs of ${drives} drives)` : '';
  return {
    at: { record, path: ['claim'], side: 'value' },
    message: `Rule \`${record.id}\` rests on ${basis}${outOf}, which shows no more than that it holds for at least ${rounded(100 * lower, 0)} % of swaps (exact lower bound at 95 %).`,
    help: 'Record more swaps that meet the condition, on drives that are not among these, or make it a rate with `at_least`.',
    related: support.slice(0, enoughPairs).map(({ outcome }) => ({
      at: { record: outcome, path: ['reached'], side: 'value' },
      message: `Outcome \`${outcome.id}\` supports it.`,
    })),
  };
}
