import type { OutcomeRecord } from '../model/record.ts';
import { type Relation, relations, ruleResults } from '../reasoning/rule-results.ts';
import { stages } from '../terms/stages.ts';
import type { Missing } from '../verdicts/eligibility.ts';
import { allEvidence, type Verdict } from '../verdicts/evidence.ts';
import { pathText } from './record-tables.ts';
import { type ColumnOf, defineTable, type ExportSource } from './table.ts';

const stageNames = stages.map(({ name }) => name);

interface StageVerdict {
  readonly outcome: string;
  readonly stage: string;
  readonly verdict: Verdict;
}

function* stageVerdicts({ snapshot }: ExportSource): Generator<StageVerdict> {
  for (const { outcome, verdicts } of allEvidence(snapshot)) {
    for (const stage of stageNames) yield { outcome: outcome.id, stage, verdict: verdicts[stage] };
  }
}

const stageColumns: readonly ColumnOf<Omit<StageVerdict, 'verdict'>>[] = [
  outcomeColumn(({ outcome }) => outcome),
  {
    name: 'stage',
    type: 'text',
    describes: 'The stage it is judged at.',
    values: stageNames,
    read: ({ stage }) => stage,
  },
];

/** What each outcome is evidence of. */
export const verdicts = defineTable<StageVerdict>({
  name: 'verdicts',
  describes: 'What each outcome is evidence of, a row for each stage. Retracted outcomes have none.',
  key: ['outcome', 'stage'],
  columns: [
    ...stageColumns,
    {
      name: 'result',
      type: 'text',
      describes:
        'What follows from the record. A swap works whether or not it is eligible, and fails only where it is.',
      values: ['works', 'fails', 'inconclusive'] satisfies readonly Verdict['result'][],
      read: ({ verdict }) => verdict.result,
    },
    {
      name: 'is_eligible',
      type: 'boolean',
      describes:
        'Whether every control is in place that a failure would need to prove anything. Rates count these alone.',
      read: ({ verdict }) => verdict.isEligible,
    },
  ],
  items: stageVerdicts,
});

interface MissingProof extends Omit<StageVerdict, 'verdict'> {
  readonly position: number;
  readonly missing: Missing;
}

/** What keeps outcomes from being eligible. */
export const verdictMissing = defineTable<MissingProof>({
  name: 'verdict_missing',
  describes: 'What an outcome lacks to be eligible at a stage, a row for each reason.',
  key: ['outcome', 'stage', 'position'],
  columns: [
    ...stageColumns,
    {
      name: 'position',
      type: 'integer',
      describes: 'Position among the reasons, from 0.',
      read: ({ position }) => position,
    },
    {
      name: 'what',
      type: 'text',
      describes: 'What is missing.',
      values: [
        'donor_proof',
        'patient_proof',
        'damage',
        'rom_proof',
        'host_need',
        'record',
      ] satisfies readonly Missing['what'][],
      read: ({ missing }) => missing.what,
    },
    {
      name: 'path',
      type: 'text',
      describes: 'Where it would be recorded, such as `controls/swapped_back`.',
      read: ({ missing }) => pathText(missing.path),
    },
    {
      name: 'says',
      type: 'text',
      describes: 'The reason in words.',
      isFree: true,
      read: ({ missing }) => missing.says,
    },
  ],
  *items(source) {
    for (const { outcome, stage, verdict } of stageVerdicts(source)) {
      for (const [position, missing] of verdict.missing.entries()) yield { outcome, stage, position, missing };
    }
  },
});

interface RuleOutcome {
  readonly rule: string;
  readonly outcome: string;
  readonly relation: Relation;
}

/** How outcomes stand to rules. */
export const ruleResultRows = defineTable<RuleOutcome>({
  name: 'rule_results',
  describes:
    'How each outcome stands to each rule in whose scope it lies. Retracted records, and rules that cannot be read in full, are in no row.',
  key: ['rule', 'outcome'],
  columns: [
    { name: 'rule', type: 'text', describes: 'Id of the rule.', refersTo: 'rules', read: ({ rule }) => rule },
    outcomeColumn(({ outcome }) => outcome),
    {
      name: 'relation',
      type: 'text',
      describes:
        '`against`: the outcome breaks the rule. `neutral`: decided, and the claim says nothing of it. `undecided`: something is not known. `excepted`: set aside by the rule.',
      values: relations,
      read: ({ relation }) => relation,
    },
  ],
  *items({ snapshot }) {
    for (const result of ruleResults(snapshot)) {
      const rule = result.rule.record.id;
      for (const relation of relations) {
        for (const { outcome } of result[relation]) yield { rule, outcome: outcome.id, relation };
      }
    }
  },
});

function outcomeColumn<Item>(read: (item: Item) => OutcomeRecord['id']): ColumnOf<Item> {
  return { name: 'outcome', type: 'text', describes: 'Id of the outcome.', refersTo: 'outcomes', read };
}
