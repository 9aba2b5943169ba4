/**
 * What would decide the outcomes that decide nothing yet.
 * Laws (test/property/deciding.property.test.ts):
 * - only undecided outcomes are listed, each once for a rule
 * - a key that is asked for is not recorded, and can be read without opening the drive
 * - the key that most cases list comes first
 */
import { evaluate } from '../conditions/evaluate.ts';
import type { Atom } from '../conditions/formula.ts';
import { openSlotsOf } from '../conditions/open-slots.ts';
import { reasonsFor } from '../conditions/reasons.ts';
import type { Swap } from '../conditions/swap.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { isAtLeast } from '../terms/stages.ts';
import { byCodeUnits } from '../text/by-code-units.ts';
import type { Evidence } from '../verdicts/evidence.ts';
import { canBecome } from './can-become.ts';
import { isInScope, type Rule } from './rule.ts';
import { relationOf, ruleResults } from './rule-results.ts';
import { scopeKeys } from './scope-keys.ts';
import { keysForMissing, keysForSlot, nameOfKey, type WantedKey } from './wanted-keys.ts';

/** An outcome that is undecided for a rule, with every key it depends on; at least one. */
export interface OpenCase {
  readonly rule: Rule;
  readonly outcome: Evidence['outcome'];
  readonly keys: readonly WantedKey[];
}

/**
 * Everything that would decide an undecided rule and outcome: cases with the most useful key first, then by rule and outcome, and
 * in each the most useful key first, then by record and key. A key is the more useful the more cases list it. Cases in which nothing
 * is left to ask for, or nothing to learn for the rule, are not among them.
 */
export function deciding(snapshot: Snapshot): OpenCase[] {
  const cases = openCases(snapshot, () => true);
  const ranks = rankKeys(cases);
  const rankOf = (key: WantedKey): number => ranks.get(nameOfKey(key)) ?? 0;
  const ranked = cases.map((one) => ({ ...one, keys: [...one.keys].sort((a, b) => rankOf(a) - rankOf(b)) }));
  const bestOf = ({ keys: [best] }: OpenCase): number => (best ? rankOf(best) : 0);
  // Cases come by rule and outcome, and the sort keeps that order among equals.
  return ranked.sort((a, b) => bestOf(a) - bestOf(b));
}

/** The same of some outcomes, by rule and outcome. */
export function openCases(snapshot: Snapshot, isAsked: (outcome: Evidence['outcome']) => boolean): OpenCase[] {
  return ruleResults(snapshot).flatMap(({ rule, undecided }) =>
    undecided.flatMap((evidence): OpenCase[] => {
      const keys = isAsked(evidence.outcome) ? distinct(keysOf(rule, evidence, snapshot)) : [];
      return keys.length > 0 ? [{ rule, outcome: evidence.outcome, keys }] : [];
    }),
  );
}

/** The place of each key in the order of usefulness. */
function rankKeys(cases: readonly OpenCase[]): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const name of cases.flatMap(({ keys }) => keys.map(nameOfKey))) counts.set(name, (counts.get(name) ?? 0) + 1);
  const sorted = [...counts].sort(([a, left], [b, right]) => right - left || byCodeUnits(a, b));
  return new Map(sorted.map(([name], position) => [name, position]));
}

/** All keys a case depends on; none where a gap can never be filled, or where the claim would say nothing whatever filled it. */
function keysOf(rule: Rule, { swap, outcome, verdicts }: Evidence, snapshot: Snapshot): readonly WantedKey[] {
  const { reached } = outcome.data;
  if (!swap || reached === undefined) return [];
  const parts: (readonly WantedKey[] | undefined)[] = [];
  const verdict = verdicts[rule.stage];
  const isDecided = rule.atLeast === undefined ? verdict.result !== 'inconclusive' : verdict.isEligible;
  if (!isDecided) parts.push(...verdict.missing.map((missing) => keysForMissing(missing, swap)));
  if (isInScope(rule, swap.patient) === undefined) parts.push(scopeKeys(rule, swap, snapshot));
  parts.push(conditionKeys({ rule, swap, works: isAtLeast(reached, rule.stage) }, snapshot));
  return parts.includes(undefined) ? [] : parts.flatMap((part) => part ?? []);
}

interface Question {
  readonly rule: Rule;
  readonly swap: Swap;
  /** Whether it works at the rule's stage; controls can make a failure of what is inconclusive, never a success. */
  readonly works: boolean;
}

/** The keys a condition depends on; none where it is known. Undefined where nothing can make the outcome speak for or against the rule. */
function conditionKeys({ rule, swap, works }: Question, snapshot: Snapshot): readonly WantedKey[] | undefined {
  const keysFor = (atom: Atom): readonly WantedKey[] =>
    openSlotsOf(atom, swap).flatMap((slot) => keysForSlot(slot, swap, snapshot));
  const canAsk = (atom: Atom): boolean => keysFor(atom).length > 0;
  const isOfUse = [true, false].some(
    (condition) =>
      relationOf(rule.claim, works, condition) !== 'neutral' && canBecome(condition, rule.when, swap, canAsk),
  );
  if (!isOfUse) return undefined;
  return evaluate(rule.when, swap) === undefined
    ? reasonsFor(rule.when, swap).flatMap(({ atom }) => keysFor(atom))
    : [];
}

function distinct(keys: readonly WantedKey[]): WantedKey[] {
  return [...new Map(keys.map((key) => [nameOfKey(key), key])).values()];
}
