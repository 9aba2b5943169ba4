import type { Place } from '../checks/finding.ts';
import { placeIn } from '../features/record-places.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type RuleResult, ruleResults } from '../reasoning/rule-results.ts';
import { type Block, placedCell } from './document.ts';

/** The ways in which outcomes stand to a rule that are counted. */
export const countNames = ['support', 'against', 'undecided', 'excepted'] as const;

/** A rule by its id, with the number of outcomes that stand to it in each way. */
export type RuleCounts = { readonly id: string } & Counts;

type Counts = Readonly<Record<(typeof countNames)[number], number>>;

/** Every rule that can be applied, by id. */
export function countRules(snapshot: Snapshot): RuleCounts[] {
  return ruleResults(snapshot).map((result) => ({ id: result.rule.record.id, ...countsOf(result) }));
}

/** The number of outcomes that stand to a rule in each way. */
export function countsOf({ support, against, undecided, excepted }: RuleResult): Counts {
  return {
    support: support.length,
    against: against.length,
    undecided: undecided.length,
    excepted: excepted.length,
  };
}

/** Where each of these rules stands, by its id. */
export function rulePlaces(snapshot: Snapshot): ReadonlyMap<string, Place> {
  const rules = ruleResults(snapshot).map(({ rule }) => rule.record);
  return new Map(rules.map((rule) => [rule.id, placeIn(snapshot.locate(rule), ['id'])]));
}

/** How the outcomes stand to each rule; nothing where there are none. With `places` of rules by id. */
export function rulesSection(rules: readonly RuleCounts[], places: ReadonlyMap<string, Place>): Block[] {
  if (rules.length === 0) return [];
  return [
    { kind: 'heading', level: 2, text: 'Rules' },
    {
      kind: 'table',
      caption: 'Outcomes by how they stand to each rule',
      columns: [{ title: 'rule', align: 'left' }, ...countNames.map((title) => ({ title, align: 'right' as const }))],
      rows: rules.map((rule) => [placedCell(rule.id, places.get(rule.id)), ...countNames.map((count) => rule[count])]),
    },
    rulesLegend,
  ];
}

/** What the counts mean. */
export const rulesLegend: Block = {
  kind: 'paragraph',
  text:
    'Support and against count outcomes that decide the claim. Undecided: a control, a value or the scope is not known. ' +
    'Excepted: set aside by the rule itself. Outcomes the claim says nothing about are not counted.',
};
