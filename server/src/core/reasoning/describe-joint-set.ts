import { describeFormula } from '../conditions/describe.ts';
import { inARow } from '../text/in-a-row.ts';
import type { JointSet } from './joint-contradictions.ts';
import type { OpenPair } from './joint-pairs.ts';

/** A joint set as a sentence: what cannot all be right, and what each rule makes of its outcomes. */
export function describeJointSet(set: JointSet): string {
  const outcomes = idsOf(set.outcomes.map(({ outcome }) => outcome));
  const rules = idsOf(set.rules.map(({ record }) => record));
  const [subject, those] = outcomes.length === 1 ? ['Outcome', 'be right'] : ['Outcomes', 'all be right'];
  const hold = rules.length === 1 ? `rule ${inARow(rules)} holds` : `rules ${inARow(rules)} hold`;
  const assumed = set.assumptions.map(
    ({ board, rev, key }) => ` and all boards of \`${board}/${rev}\` have the same \`${key}\``,
  );
  const clauses = byRule(set).flatMap((pairs) => describeDemand(pairs));
  return `${subject} ${inARow(outcomes)} cannot ${those} if ${hold}${assumed.join('')}: ${clauses.join('; ')}.`;
}

function idsOf(records: readonly { readonly id: string }[]): string[] {
  return records.map(({ id }) => id);
}

function byRule({ rules, pairs }: JointSet): (readonly OpenPair[])[] {
  return rules.map((rule) => pairs.filter((pair) => pair.rule === rule));
}

/** What one rule demands of outcomes: "`a` and `b` work at `reads`, which by `x` takes `same: [preamp]`". */
function describeDemand(pairs: readonly OpenPair[]): string[] {
  const [first] = pairs;
  if (!first) return [];
  const { rule } = first;
  const ids = pairs.map(({ evidence }) => evidence.outcome.id);
  const verb = rule.claim === 'enough' ? 'fail' : 'work';
  const seen = `${inARow(ids)} ${verb}${ids.length === 1 ? 's' : ''} at \`${rule.stage}\``;
  const demands = rule.claim === 'needs' ? 'takes' : 'rules out';
  return [`${seen}, which by \`${rule.record.id}\` ${demands} \`${describeFormula(rule.when)}\``];
}
