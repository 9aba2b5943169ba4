import type { Check } from '../checks/define-check.ts';
import { exceptionNotNeeded } from '../checks/exception-not-needed.ts';
import type { Finding } from '../checks/finding.ts';
import { jointContradiction } from '../checks/joint-contradiction.ts';
import { notDecided } from '../checks/not-decided.ts';
import { outcomeBreaksRule } from '../checks/outcome-breaks-rule.ts';
import { ruleImplied } from '../checks/rule-implied.ts';
import { ruleImpossible } from '../checks/rule-impossible.ts';
import { rulesConflict } from '../checks/rules-conflict.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { ruleResults } from '../reasoning/rule-results.ts';
import { collectRelations, type RuleRelationsData } from './conflicts.ts';
import type { Block } from './document.ts';
import { findingSection } from './finding-section.ts';
import { collectJoint, forcedSection, type JointReportData } from './joint.ts';

/** How the outcomes of a base stand to its rules, and these to each other. Keys and shapes are those of the JSON output. */
export interface Contradictions extends RuleRelationsData, JointReportData {
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

/** The checks whose findings the report shows. */
export const reportedChecks: readonly Check[] = [
  outcomeBreaksRule,
  jointContradiction,
  rulesConflict,
  exceptionNotNeeded,
  ruleImpossible,
  ruleImplied,
  notDecided,
];

/** Counts every rule, and lists what breaks a law and which rules cannot both hold. */
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
    ...collectRelations(snapshot),
    ...collectJoint(snapshot),
  };
}

/** The report a person reads from top to bottom: what is broken, with what to do about it, then the state of every rule. */
export function contradictionsDocument(data: Contradictions, findings: readonly Finding[], baseName: string): Block[] {
  const title: Block = { kind: 'heading', level: 1, text: `Outcomes against rules: ${baseName}` };
  if (data.rules.length === 0) return [title, { kind: 'paragraph', text: 'No rule of this base can be applied.' }];
  const of = (...checks: readonly Check[]): Finding[] =>
    findings.filter((finding) => checks.some(({ check }) => check === finding.check));
  // A crash of our own is told where it can be least overlooked.
  const crashed = findings.filter((finding) => !reportedChecks.some(({ check }) => check === finding.check));
  return [
    title,
    ...brokenBlocks(data, [...of(outcomeBreaksRule), ...crashed]),
    ...findingSection('Outcomes that cannot all be right', of(jointContradiction)),
    ...findingSection('Rules that cannot both hold', of(rulesConflict)),
    ...findingSection('Exceptions that make no difference', of(exceptionNotNeeded)),
    ...findingSection('Rules that rule out nothing, or everything', of(ruleImpossible, ruleImplied)),
    ...findingSection('Not decided', of(notDecided)),
    ...forcedSection(data),
    { kind: 'heading', level: 2, text: 'Rules' },
    rulesTable(data),
    legend,
  ];
}

function brokenBlocks({ broken }: Contradictions, findings: readonly Finding[]): Block[] {
  if (findings.length > 0) return findingSection('Broken rules', findings);
  return [{ kind: 'paragraph', text: broken.length === 0 ? nothingBroken : notListed }];
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
