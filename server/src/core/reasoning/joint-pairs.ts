import type { Side } from '../conditions/swap.ts';
import { type Derivation, derive, type Steps } from '../index/derivation.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { differingIds, findSorted, replaceSorted } from '../index/sorted.ts';
import type { BoardRecord } from '../model/record.ts';
import { conditionConstraint } from '../solver/condition-constraint.ts';
import { type OpenClaim, type OpenValue, RecordedSwap, termOfSide } from '../solver/recorded-swap.ts';
import { isAlways, namesIn, simplify } from '../solver/simplify.ts';
import { type Constraint, not } from '../solver/terms.ts';
import { drained } from '../terms/drained.ts';
import type { Evidence } from '../verdicts/evidence.ts';
import { mayBeInferred, shareName } from './joint-background.ts';
import { jointLaws, type Law, lawId, lawsOf } from './joint-laws.ts';
import { isInScope, type Rule } from './rule.ts';
import { type RuleResult, resultsOfRules, ruleResults } from './rule-results.ts';

/** What a law demands of the unrecorded values of one decided outcome. */
export interface OpenPair {
  readonly rule: Rule;
  readonly evidence: Evidence;
  readonly demand: Constraint;
  /** The values the demand speaks of, by slot name. */
  readonly open: ReadonlyMap<string, OpenValue>;
  readonly claims: readonly OpenClaim[];
  /** Names of the unknowns the pair has to do with: two pairs with one in common may matter to each other. */
  readonly links: readonly string[];
  /** The recorded boards that a drive of no recorded board could turn out to have, as far as this pair can tell. */
  readonly boards: readonly BoardRecord[];
}

/** The open pairs of one law, by outcome id. */
export interface LawPairs {
  readonly law: Law;
  readonly undecided: readonly Evidence[];
  readonly pairs: readonly OpenPair[];
}

/** All open pairs. */
export const openPairsByLaw: Derivation<readonly LawPairs[]> = {
  name: 'open pairs',
  restsOn: [resultsOfRules, jointLaws],
  *compute(snapshot) {
    const all: LawPairs[] = [];
    for (const [law, result] of lawResults(snapshot)) all.push(yield* pairsOf(law, result));
    return all;
  },
  update: (value, { after }) =>
    lawResults(after).map(([law, result]) => {
      const old = findSorted(value, lawId(law), ({ law: known }) => lawId(known));
      return old?.law === law ? updated(old, result) : drained(pairsOf(law, result));
    }),
};

/** All open pairs, by rule id and outcome id. */
export function openPairs(snapshot: Snapshot): readonly LawPairs[] {
  return derive(openPairsByLaw, snapshot);
}

/** Id of a pair's outcome. */
function outcomeIdOf({ evidence }: OpenPair): string {
  return evidence.outcome.id;
}

function lawResults(snapshot: Snapshot): (readonly [Law, RuleResult])[] {
  const byRule = new Map(ruleResults(snapshot).map((result) => [result.rule, result]));
  return lawsOf(snapshot).flatMap((law) => {
    const result = byRule.get(law.rule);
    return result ? [[law, result] as const] : [];
  });
}

function* pairsOf(law: Law, { undecided }: RuleResult): Steps<LawPairs> {
  const pairs: OpenPair[] = [];
  for (const evidence of undecided) {
    const pair = openPair(law, evidence);
    if (pair) pairs.push(pair);
    yield;
  }
  return { law, undecided, pairs };
}

function updated(old: LawPairs, { undecided }: RuleResult): LawPairs {
  if (old.undecided === undecided) return old;
  const ids = differingIds(old.undecided, undecided, ({ outcome }) => outcome.id);
  const pairs = replaceSorted(old.pairs, ids, outcomeIdOf, (id) => {
    const evidence = findSorted(undecided, id, ({ outcome }) => outcome.id);
    return evidence && openPair(old.law, evidence);
  });
  return { law: old.law, undecided, pairs };
}

/** What a law demands of an undecided outcome; undefined where it is the verdict or the scope that is open, or nothing is demanded. */
export function openPair({ rule, boards }: Law, evidence: Evidence): OpenPair | undefined {
  const { swap } = evidence;
  const { result } = evidence.verdicts[rule.stage];
  if (!swap || result === 'inconclusive' || isInScope(rule, swap.patient) !== true) return undefined;
  const wanted = wantedTruth(rule, result === 'works');
  if (wanted === undefined) return undefined;
  const terms = new RecordedSwap(swap);
  const condition = conditionConstraint(rule.when, terms);
  const demand = simplify(wanted ? condition : not(condition));
  if (isAlways(demand)) return undefined;
  const names = namesIn(demand);
  const open = new Map([...terms.open].filter(([name]) => names.has(name)));
  const claims = [...terms.claims.values()].filter(({ flag }) => names.has(`flag ${flag.name}`));
  return {
    ...{ rule, evidence, demand, open, claims },
    links: linksOf(names, open.values(), claims),
    boards: [...boards, ...[swap.patient.board, swap.donor.board].flatMap((board) => board ?? [])],
  };
}

/** What the condition of a rule must be on a swap that works, or fails; undefined where it may be either. */
function wantedTruth({ claim }: Rule, works: boolean): boolean | undefined {
  switch (claim) {
    case 'needs':
      return works ? true : undefined;
    case 'enough':
      return works ? undefined : false;
    case 'prevents':
      return works ? false : undefined;
  }
}

/** The names of unknowns, and of those they may follow from. */
export function linksOf(
  names: Iterable<string>,
  open: Iterable<OpenValue>,
  claims: readonly OpenClaim[] = [],
): readonly string[] {
  const links = new Set(names);
  for (const value of open) {
    if (value.share) links.add(shareName(value.share));
    if (value.side && mayBeInferred(value)) addRevision(value.side, links);
  }
  for (const { patient, donor } of claims) {
    addRevision(patient, links);
    addRevision(donor, links);
  }
  return [...links];
}

function addRevision(side: Side, links: Set<string>): void {
  for (const key of ['board', 'rev'] as const) {
    const term = termOfSide(side, key);
    if (term.kind === 'slot') links.add(term.name);
  }
}
