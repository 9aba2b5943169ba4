import type { Place } from '../checks/finding.ts';
import { placeIn } from '../features/record-places.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { countedRelations, countsOf, type RuleCounts, ruleResults } from '../reasoning/rule-results.ts';
import { type Block, placedCell } from './document.ts';

/** A rule by its id, with the number of outcomes that stand to it in each way. */
export type CountedRule = { readonly id: string } & RuleCounts;

/** Every rule that can be applied, by id. */
export function countRules(snapshot: Snapshot): CountedRule[] {
  return ruleResults(snapshot).map((result) => ({ id: result.rule.record.id, ...countsOf(result) }));
}

/** Where each of these rules stands, by its id. */
export function rulePlaces(snapshot: Snapshot): ReadonlyMap<string, Place> {
  const rules = ruleResults(snapshot).map(({ rule }) => rule.record);
  return new Map(rules.map((rule) => [rule.id, placeIn(snapshot.locate(rule), ['id'])]));
}

/** How the outcomes stand to each rule; nothing where there are none. With `places` of rules by id. */
export function rulesSection(rules: readonly CountedRule[], places: ReadonlyMap<string, Place>): Block[] {
  if (rules.length === 0) return [];
  return [
    { kind: 'heading', level: 2, text: 'Rules' },
    {
      kind: 'table',
      caption: 'Outcomes by how they stand to each rule',
      columns: [
        { title: 'rule', align: 'left' },
        ...countedRelations.map((title) => ({ title, align: 'right' as const })),
      ],
      rows: rules.map((rule) => [
        placedCell(rule.id, places.get(rule.id)),
        ...countedRelations.map((count) => rule[count]),
      ]),
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
