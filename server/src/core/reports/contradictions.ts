import type { Check } from '../checks/define-check.ts';
import { exceptionNotNeeded } from '../checks/exception-not-needed.ts';
import type { Finding, Place } from '../checks/finding.ts';
import { identityDisagrees } from '../checks/identity-disagrees.ts';
import { interchangeDisagrees } from '../checks/interchange-disagrees.ts';
import { jointContradiction } from '../checks/joint-contradiction.ts';
import { lawThin } from '../checks/law-thin.ts';
import { notDecided } from '../checks/not-decided.ts';
import { outcomeBreaksRule } from '../checks/outcome-breaks-rule.ts';
import { outcomesDisagree } from '../checks/outcomes-disagree.ts';
import { rateOff } from '../checks/rate-off.ts';
import { ruleImplied } from '../checks/rule-implied.ts';
import { ruleImpossible } from '../checks/rule-impossible.ts';
import { rulesConflict } from '../checks/rules-conflict.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { type SuggestedRepair, suggestedRepairs } from '../odds/suggested-repairs.ts';
import { deciding, type OpenCase } from '../reasoning/deciding.ts';
import { disagreements } from '../reasoning/disagreements.ts';
import { ruleResults } from '../reasoning/rule-results.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import { collectRelations, type RuleRelationsData } from './conflicts.ts';
import { decidingSection } from './deciding-section.ts';
import type { Block } from './document.ts';
import { findingSection } from './finding-section.ts';
import { collectJoint, forcedSection, type JointReportData } from './joint.ts';
import { repairsSection, toRepairData } from './repairs-section.ts';
import { type CountedRule, countRules, rulePlaces, rulesSection } from './rules-section.ts';

/** How the outcomes of a base stand to its rules and to each other. Keys and shapes are those of the JSON output. */
interface Contradictions extends RuleRelationsData, JointReportData {
  /** Every rule that can be applied, by id, with the number of outcomes that stand to it in each way. */
  readonly rules: readonly CountedRule[];
  /** Laws that a recorded outcome breaks, by rule, then outcome. */
  readonly broken: readonly { readonly rule: string; readonly outcome: string }[];
  /** What might mend the laws that are broken and that many pairs support, by rule. */
  readonly repairs: readonly ReturnType<typeof toRepairData>[];
  /** Outcomes that look alike and came out opposite, by id, with the keys in which neither can be compared. */
  readonly disagreements: readonly {
    readonly outcomes: readonly [string, string];
    readonly unrecorded: readonly string[];
  }[];
  /** What would decide an undecided rule and outcome, most useful first. `rev` where a key belongs in a revision. */
  readonly deciding: readonly {
    readonly rule: string;
    readonly outcome: string;
    readonly keys: readonly { readonly record: string; readonly rev?: string; readonly key: string }[];
  }[];
}

/** The same with what only texts and pages show. */
export interface ContradictionsReport {
  readonly data: Contradictions;
  readonly cases: readonly OpenCase[];
  readonly repairs: readonly SuggestedRepair[];
  /** Where each rule that is counted stands, by its id. */
  readonly places: ReadonlyMap<string, Place>;
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
  rateOff,
  interchangeDisagrees,
  identityDisagrees,
  outcomesDisagree,
  lawThin,
];

/** Counts every rule, and lists what breaks a law, what disagrees, and what would decide what is open. */
export function collectContradictions(snapshot: Snapshot): ContradictionsReport {
  const results = ruleResults(snapshot);
  const cases = deciding(snapshot);
  const repairs = suggestedRepairs(snapshot);
  const data: Contradictions = {
    rules: countRules(snapshot),
    broken: results
      .filter(({ rule }) => rule.atLeast === undefined)
      .flatMap(({ rule, against }) => against.map(({ outcome }) => ({ rule: rule.record.id, outcome: outcome.id }))),
    ...collectRelations(snapshot),
    ...collectJoint(snapshot),
    repairs: repairs.map(toRepairData),
    disagreements: listDisagreements(snapshot),
    deciding: cases.map(({ rule, outcome, keys }) => ({
      rule: rule.record.id,
      outcome: outcome.id,
      keys: keys.map(({ row: _, ...key }) => key),
    })),
  };
  return { data, cases, repairs, places: rulePlaces(snapshot) };
}

function listDisagreements(snapshot: Snapshot): Contradictions['disagreements'] {
  const list: { readonly outcomes: readonly [string, string]; readonly unrecorded: readonly string[] }[] = [];
  for (const { outcome, opposites } of disagreements(snapshot)) {
    for (const earlier of opposites)
      list.push({ outcomes: [earlier.outcome.id, outcome.id], unrecorded: earlier.unrecorded });
  }
  return list.sort((a, b) => byCodeUnits(a.outcomes[0], b.outcomes[0]) || byCodeUnits(a.outcomes[1], b.outcomes[1]));
}

/** The report a person reads from top to bottom: what is wrong, with what to do about it, then the state of every rule. */
export function contradictionsDocument(
  { data, cases, repairs, places }: ContradictionsReport,
  findings: readonly Finding[],
  baseName: string,
): Block[] {
  const of = (...checks: readonly Check[]): Finding[] =>
    findings.filter((finding) => checks.some(({ check }) => check === finding.check));
  // A crash of our own is told where it can be least overlooked.
  const crashed = findings.filter((finding) => !reportedChecks.some(({ check }) => check === finding.check));
  return [
    { kind: 'heading', level: 1, text: `Outcomes against rules: ${baseName}` },
    ...brokenBlocks(data, [...of(outcomeBreaksRule), ...crashed]),
    ...repairsSection(repairs, places),
    ...findingSection('Outcomes that cannot all be right', of(jointContradiction)),
    ...findingSection('Rules that cannot both hold', of(rulesConflict)),
    ...findingSection('Exceptions that make no difference', of(exceptionNotNeeded)),
    ...findingSection('Rates, claims and laws in doubt', of(rateOff, interchangeDisagrees, identityDisagrees, lawThin)),
    ...findingSection('Outcomes that disagree', of(outcomesDisagree)),
    ...findingSection('Rules that rule out nothing, or everything', of(ruleImpossible, ruleImplied)),
    ...findingSection('Not decided', of(notDecided)),
    ...decidingSection(cases),
    ...forcedSection(data),
    ...rulesSection(data.rules, places),
  ];
}

function brokenBlocks({ rules, broken }: Contradictions, findings: readonly Finding[]): Block[] {
  if (findings.length > 0) return findingSection('Broken rules', findings);
  const text = rules.length === 0 ? noRules : broken.length === 0 ? nothingBroken : notListed;
  return [{ kind: 'paragraph', text }];
}

const noRules = 'No rule of this base can be applied.';

const nothingBroken = 'No recorded outcome breaks a rule.';

const notListed =
  'This base switches the check `outcome-breaks-rule` off, so outcomes that break a rule are only counted, under against.';
