import { describeFormula } from '../conditions/describe.ts';
import { membersOf } from '../features/family-members.ts';
import { placeIn } from '../features/record-places.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { FamilyRecord } from '../model/record.ts';
import { countedRelations, type RuleResult, ruleResults } from '../reasoning/rule-results.ts';
import { claims } from '../terms/claims.ts';
import { remembered } from '../terms/remembered.ts';
import { familyOf } from '../verdicts/evidence-by-family.ts';
import { type Block, placedCell } from './document.ts';
import { rulesLegend } from './rules-section.ts';

/** How the outcomes of one family stand to a rule. */
type Counts = Record<(typeof countedRelations)[number], number>;

/** The rules about a family, and those about all that its outcomes put to the test; nothing where there are none. */
export function familyRules(family: FamilyRecord, snapshot: Snapshot): Block[] {
  const counted = countsByFamily(snapshot).get(family.id) ?? new Map<RuleResult, Counts>();
  const own = new Set(membersOf('rule', family, snapshot));
  const shown = ruleResults(snapshot).filter((result) => counted.has(result) || own.has(result.rule.record));
  if (shown.length === 0) return [];
  return [
    { kind: 'heading', level: 2, text: 'Rules' },
    {
      kind: 'table',
      caption: 'Outcomes of this family by how they stand to each rule',
      columns: [
        { title: 'rule', align: 'left', isShort: true },
        { title: 'claim', align: 'left' },
        ...countedRelations.map((title) => ({ title, align: 'right' as const })),
      ],
      rows: shown.map((result) => {
        const { record } = result.rule;
        const counts = counted.get(result) ?? newCounts();
        const place = placeIn(snapshot.locate(record), ['id']);
        return [placedCell(record.id, place), claimWords(result), ...countedRelations.map((name) => counts[name])];
      }),
    },
    rulesLegend,
  ];
}

function claimWords({ rule: { claim, stage, when, atLeast } }: RuleResult): string {
  const reads = claims.find(({ name }) => name === claim)?.reads ?? claim;
  const rate = atLeast === undefined ? '' : `, at a rate of ${atLeast} at least`;
  return `\`${stage}\` ${reads} \`${describeFormula(when)}\`${rate}`;
}

/** Counts of all rules by the family of the patient, found in one pass: a base has many families, and rules that are about all. */
const countsByFamily = remembered((snapshot: Snapshot) => {
  const byFamily = new Map<string | undefined, Map<RuleResult, Counts>>();
  for (const result of ruleResults(snapshot)) {
    for (const name of countedRelations) {
      for (const evidence of result[name]) {
        const family = familyOf(evidence);
        const counts = byFamily.get(family) ?? new Map<RuleResult, Counts>();
        byFamily.set(family, counts);
        const own = counts.get(result) ?? newCounts();
        counts.set(result, own);
        own[name]++;
      }
    }
  }
  return byFamily;
});

function newCounts(): Counts {
  return { support: 0, against: 0, undecided: 0, excepted: 0 };
}
