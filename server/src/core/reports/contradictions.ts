import type { Finding } from '../checks/finding.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { ruleResults } from '../reasoning/rule-results.ts';
import type { Block } from './document.ts';

/** How the outcomes of a base stand to its rules. Keys and shapes are those of the JSON output. */
export interface Contradictions {
  /** Every rule that can be applied, by id, with the number of outcomes that stand to it in each way. */
  readonly rules: readonly {
    readonly id: string;
    readonly support: number;
    readonly against: number;
    readonly undecided: number;
    readonly excepted: number;
  }[];
  /** Laws that a recorded outcome breaks, by rule, then outcome. */
  readonly broken: readonly { readonly rule: string; readonly outcome: string }[];
}

/** Counts every rule and lists what breaks a law. */
export function collectContradictions(snapshot: Snapshot): Contradictions {
  const results = ruleResults(snapshot);
  return {
    rules: results.map(({ rule, support, against, undecided, excepted }) => ({
      id: rule.record.id,
      support: support.length,
      against: against.length,
      undecided: undecided.length,
      excepted: excepted.length,
    })),
    broken: results
      .filter(({ rule }) => rule.atLeast === undefined)
      .flatMap(({ rule, against }) => against.map(({ outcome }) => ({ rule: rule.record.id, outcome: outcome.id }))),
  };
}

/** The report a person reads from top to bottom: what is broken, with what to do about it, then the state of every rule. */
export function contradictionsDocument(data: Contradictions, findings: readonly Finding[], baseName: string): Block[] {
  const title: Block = { kind: 'heading', level: 1, text: `Outcomes against rules: ${baseName}` };
  if (data.rules.length === 0) return [title, { kind: 'paragraph', text: 'No rule of this base can be applied.' }];
  return [
    title,
    ...brokenBlocks(data, findings),
    { kind: 'heading', level: 2, text: 'Rules' },
    rulesTable(data),
    legend,
  ];
}

function brokenBlocks({ broken }: Contradictions, findings: readonly Finding[]): Block[] {
  if (findings.length === 0) return [{ kind: 'paragraph', text: broken.length === 0 ? nothingBroken : notListed }];
  const items = findings.map((finding) => ({
    name: `${finding.severity}: ${finding.record ?? finding.check} (${finding.place.file})`,
    lines: finding.help === undefined ? [finding.message] : [finding.message, finding.help],
  }));
  return [
    { kind: 'heading', level: 2, text: 'Broken rules' },
    { kind: 'items', items },
  ];
}

function rulesTable({ rules }: Contradictions): Block {
  const counts = ['support', 'against', 'undecided', 'excepted'] as const;
  return {
    kind: 'table',
    columns: [{ title: 'rule', align: 'left' }, ...counts.map((title) => ({ title, align: 'right' as const }))],
    rows: rules.map((rule) => [rule.id, ...counts.map((count) => rule[count])]),
  };
}

const nothingBroken = 'No recorded outcome breaks a rule.';

const notListed =
  'This base switches the check `outcome-breaks-rule` off, so outcomes that break a rule are only counted, under against.';

const legend: Block = {
  kind: 'paragraph',
  text:
    'Support and against count outcomes that decide the claim. Undecided: a control, a value or the scope is not known. ' +
    'Excepted: set aside by the rule itself. Outcomes the claim says nothing about are not counted.',
};
