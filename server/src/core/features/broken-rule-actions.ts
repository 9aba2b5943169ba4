import type { Change } from '../checks/fix.ts';
import { describeFormula } from '../conditions/describe.ts';
import { toFormula } from '../conditions/formula.ts';
import type { Value } from '../edits/intent.ts';
import { hasUnusable } from '../model/record.ts';
import { suggestedRepair } from '../odds/suggested-repairs.ts';
import { type RuleResult, ruleResults } from '../reasoning/rule-results.ts';
import type { ActionContext, ActionDraft } from './action.ts';
import { Blanks } from './blanks.ts';

/** Most outcomes for each of which an exception is offered at the rule itself. */
const mostExceptions = 5;

/** Keys of a rule at which it is offered what might mend it. */
const ruleKeys: ReadonlySet<string> = new Set(['kind', 'id', 'claim', 'when']);

/**
 * What might settle a broken law: an exception for the outcome that breaks it, whose reason is asked for, or a suggested repair of the
 * law. Offered at the outcome, and at the law, where an editor can ask for the reason even if the two stand in different files.
 */
export function brokenRuleActions(context: ActionContext): readonly ActionDraft[] {
  const { file, findingsHere, standing, topKey } = context;
  if (!file.isIndexed || !standing) return [];
  const { record } = standing;
  if (record.kind === 'rule') {
    if (!ruleKeys.has(topKey ?? '')) return [];
    return brokenLaws(context).flatMap((result) => {
      if (result.rule.record !== record) return [];
      const outcomes = result.against.slice(0, mostExceptions).map(({ outcome }) => outcome.id);
      return [...outcomes.flatMap((id) => exceptionsFor(context, result, id)), ...repairsOf(context, result)];
    });
  }
  const broken = findingsHere.filter(
    (finding) => finding.check === 'outcome-breaks-rule' && finding.record === `outcome/${record.id}`,
  );
  if (broken.length === 0) return [];
  return brokenLaws(context).flatMap((result) => {
    if (!result.against.some(({ outcome }) => outcome === record)) return [];
    const { file: at, document } = file.snapshot.locate(result.rule.record);
    const findings = broken.filter(({ related }) =>
      related.some(
        ({ place: { file: path, target } }) => path === at.path && 'document' in target && target.document === document,
      ),
    );
    const drafts = [...exceptionsFor(context, result, record.id), ...repairsOf(context, result)];
    return findings.length > 0 ? drafts.map((draft) => ({ ...draft, kind: 'quick-fix', findings }) as const) : [];
  });
}

function brokenLaws({ file }: ActionContext): readonly RuleResult[] {
  return ruleResults(file.snapshot).filter(({ rule, against }) => rule.atLeast === undefined && against.length > 0);
}

function exceptionsFor(context: ActionContext, { rule }: RuleResult, outcome: string): readonly ActionDraft[] {
  // What stands there and cannot be read would be replaced.
  if (hasUnusable(rule.record, 'exceptions')) return [];
  const blanks = new Blanks();
  const value = { outcome, because: blanks.addWords() };
  const { exceptions } = rule.record.data;
  const title = `Except \`${outcome}\` from rule \`${rule.record.id}\`, with the reason`;
  const step = exceptions
    ? ({ intent: 'insert', path: ['exceptions', exceptions.length], value } as const)
    : ({ intent: 'set', path: ['exceptions'], value: [value] } as const);
  return [{ ...changeOf(context, rule, step), title, blanks: blanks.list }];
}

function repairsOf(context: ActionContext, result: RuleResult): readonly ActionDraft[] {
  const repair = suggestedRepair(result);
  if (!repair || hasUnusable(repair.rule.record, 'when')) return [];
  const { rule, entry, atLeast } = repair;
  const name = `rule \`${rule.record.id}\``;
  const set = (path: string, value: Value) => changeOf(context, rule, { intent: 'set', path: [path], value });
  const added = entry && `\`${describeFormula(toFormula(entry.add, []))}\``;
  const title =
    rule.claim === 'needs' ? `Let ${added} do as well in ${name}` : `Add ${added} to the condition of ${name}`;
  return [
    // Conditions are plain data as they were read, and hold nothing that a file could not.
    ...(entry ? [{ ...set('when', entry.when as unknown as Value), title }] : []),
    ...(atLeast === undefined
      ? []
      : [{ ...set('at_least', atLeast), title: `Make ${name} a rate: \`at_least: ${atLeast}\`` }]),
  ];
}

/** One change of a rule. */
function changeOf(
  { file: { snapshot } }: ActionContext,
  { record }: RuleResult['rule'],
  change: Change,
): Omit<ActionDraft, 'title'> {
  const { file, document } = snapshot.locate(record);
  const changes = [{ file: file.path, contentId: file.contentId, intents: [{ ...change, document }] }];
  return { kind: 'refactor', changes };
}
