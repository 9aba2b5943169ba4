import type { Snapshot } from '../index/snapshot.ts';
import { independentTally, type PairCount } from '../odds/count-pairs.ts';
import { exactUpperBound } from '../odds/exact-bounds.ts';
import { pairsOfRate } from '../odds/rule-trials.ts';
import { type RuleResult, resultsOfRules, ruleResults } from '../reasoning/rule-results.ts';
import { rounded } from '../text/rounded.ts';
import { type Draft, defineCheck } from './define-check.ts';
import { exampleBase } from './example-base.ts';

/** Chance that any rate of a base is called off although all are right; shared out among those that were tried. */
const falseAlarms = 0.01;

/** Four pairs that share no drive and fail with every control in place. */
const failures = Object.fromEntries(
  [1, 2, 3, 4].flatMap((n) => [
    [`drives/${n}.yaml`, `kind: drive\nid: p-${n}\nfamily: tern-2\n---\nkind: drive\nid: q-${n}\nfamily: tern-2\n`],
    [
      `outcomes/${n}.yaml`,
      `kind: outcome\nid: o-${n}\ndate: 2026-03-14\npatient: p-${n}\ndonor: q-${n}\nrom: left\ncontrols: {swapped_back: both_work}\nreached: spins\nresult: fails\n`,
    ],
  ]),
);

/** A rate that the recorded pairs rule out. */
export const rateOff = defineCheck({
  check: 'rate-off',
  group: 'across',
  severity: 'warning',
  scope: 'base',
  restsOn: [resultsOfRules],
  why: 'A rate tells whoever picks a donor what to expect. Where the recorded pairs rule it out, the next customer is promised something the bench itself has disproved. Only outcomes with every control count, pairs that share a drive count less, and the more rates a base has, the more it takes to call one off.',
  examples: () => [
    {
      title: 'Four pairs, none of which worked',
      files: {
        ...exampleBase,
        ...failures,
        'rules/tern.yaml': `kind: rule
id: tern-mostly-works
claim: enough
#      ^^^^^^ rate-off: Rule \`tern-mostly-works\` says at least \`0.9\`, but 0 of 4 pairs bear it out, which allows 0.684 at most (exact upper bound at 99 %).
when: {rom_travels: true}
at_least: 0.9
`,
      },
    },
    {
      title: 'A rate that four failures do not rule out yet',
      files: {
        ...exampleBase,
        ...failures,
        'rules/tern.yaml':
          'kind: rule\nid: tern-mostly-works\nclaim: enough\nwhen: {rom_travels: true}\nat_least: 0.65\n',
      },
    },
  ],
  *run(snapshot: Snapshot) {
    const tried = ruleResults(snapshot).flatMap((result) => {
      const { atLeast } = result.rule;
      if (atLeast === undefined) return [];
      const count = pairsOfRate(result);
      return count.pairs > 0 ? [{ result, atLeast, count }] : [];
    });
    const confidence = 1 - falseAlarms / tried.length;
    for (const { result, atLeast, count } of tried) {
      const most = exactUpperBound(independentTally(count), confidence);
      if (most < atLeast) yield describe(result, { atLeast, count, most, confidence });
    }
  },
});

interface Off {
  readonly atLeast: number;
  readonly count: PairCount;
  readonly most: number;
  readonly confidence: number;
}

/** Outcomes that a finding points to; `swaplore contradictions` counts them all. */
const mostRelated = 5;

function describe({ rule: { record }, against }: RuleResult, { atLeast, count, most, confidence }: Off): Draft {
  const { pairs, votes, drives, independentPairs } = count;
  const shared = independentPairs < pairs ? ` (${drives} drives, ${independentPairs} independent)` : '';
  return {
    at: { record, path: ['claim'], side: 'value' },
    message: `Rule \`${record.id}\` says at least \`${atLeast}\`, but ${rounded(votes, 2)} of ${pairs} ${pairs === 1 ? 'pair bears' : 'pairs bear'} it out${shared}, which allows ${shownBelow(most, atLeast)} at most (exact upper bound at ${rounded(100 * confidence, 2)} %).`,
    help: 'Lower the rate, or narrow the condition to the swaps that do better.',
    related: against.slice(0, mostRelated).map(({ outcome }) => ({
      at: { record: outcome, path: ['reached'], side: 'value' },
      message: `Outcome \`${outcome.id}\` stands against it.`,
    })),
  };
}

/** A number with three decimals, or as many as it takes to stay below the limit it is below. */
function shownBelow(value: number, limit: number): string {
  let decimals = 3;
  while (decimals < 15 && Number(value.toFixed(decimals)) >= limit) decimals++;
  return rounded(value, decimals);
}
