/**
 * Which rules can never both hold, which say nothing of their own, and which can never be met or broken: decided over all swaps there
 * could be, not over those recorded.
 * Laws (test/property/rule-relations.property.test.ts):
 * - an outside solver gives the same answer for every pair of rules
 * - a witness written as records triggers both rules, and no smaller part of it does
 * - no outcome that stands against an implied rule speaks for the one that implies it
 */
import type { Derivation } from '../index/derivation.ts';
import type { Layer } from '../index/memo.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { Effort } from '../solver/effort.ts';
import { type Answer, Solver } from '../solver/solver.ts';
import { all, type Constraint, not } from '../solver/terms.ts';
import { isAtLeast } from '../terms/stages.ts';
import { type Mentions, mentionsOf } from './mentions.ts';
import { namesUnknown } from './names-unknown.ts';
import { type Background, backgroundConstraint, backgroundOf } from './possible-swap.ts';
import { type Rule, rulesOf } from './rule.ts';
import { scopeConstraint, verdictConstraint, whenConstraint } from './rule-constraints.ts';
import { canScopesMeet } from './rule-scopes.ts';
import { smallestWitness, type Witness } from './witness.ts';

/** Steps that one question about rules may take: many times what conditions of everyday rules do. */
export const stepsPerQuestion = 100_000;

/** Why nothing can come of a rule. */
export type Flaw = 'scope' | 'never-met' | 'never-broken';

/** An `enough` rule and one that says of some swap that it cannot work, with the smallest such swap. */
export interface Conflict {
  readonly enough: Rule;
  readonly other: Rule;
  readonly witness: Witness;
}

/** How the rules of a base stand to each other, each list by rule id. */
export interface RuleRelations {
  readonly impossible: readonly { readonly rule: Rule; readonly flaw: Flaw }[];
  /** Laws against which no swap stands that does not stand against another one too. */
  readonly implied: readonly { readonly rule: Rule; readonly by: Rule; readonly isEqual: boolean }[];
  /** By the later of the two ids, then the earlier. */
  readonly conflicts: readonly Conflict[];
  /** Questions that took too many steps. */
  readonly undecided: readonly { readonly rules: readonly Rule[]; readonly question: Question }[];
}

/** What was asked of rules. */
export type Question = 'impossible' | 'implied' | 'conflict';

const flawLayer: Layer<Flaw | 'sound' | 'undecided'> = { name: 'flaw of a rule' };
const impliedLayer: Layer<Answer['status']> = { name: 'rule implied' };
const conflictLayer: Layer<Witness | Answer['status']> = { name: 'rules in conflict' };
const impossibleLayer: Layer<ReadonlySet<Rule>> = { name: 'impossible rules' };
const relationsLayer: Layer<RuleRelations> = { name: 'relations of rules' };

/** How the rules of a base stand to each other. Those that name something unrecorded take no part. */
export function ruleRelations(snapshot: Snapshot): RuleRelations {
  return snapshot.derive(relations);
}

/** Asked for many times a run, while what it rests on is many records to compare. */
const relations: Derivation<RuleRelations> = {
  name: 'relations of rules',
  compute: findRelations,
  update: (_, { after }) => findRelations(after),
};

function findRelations(snapshot: Snapshot): RuleRelations {
  return snapshot.layers.of(relationsLayer).get('', inputsOfAll(snapshot), () => {
    return compareRules(
      rulesOf(snapshot).filter((rule) => !namesUnknown(rule, snapshot)),
      snapshot,
    );
  });
}

/** The rules that nothing can meet or break, as far as that is decided; the same set for as long as nothing it rests on changes. */
export function impossibleRules(snapshot: Snapshot): ReadonlySet<Rule> {
  return snapshot.layers.of(impossibleLayer).get('', inputsOfAll(snapshot), () => {
    const rules = rulesOf(snapshot).filter((rule) => !namesUnknown(rule, snapshot));
    return new Set(new Comparison(snapshot).impossible(rules).map(({ rule }) => rule));
  });
}

/** How these rules, given by id, stand to each other before the families and boards of a base. */
export function compareRules(rules: readonly Rule[], snapshot: Snapshot): RuleRelations {
  return new Comparison(snapshot).compare(rules);
}

class Comparison {
  private readonly undecided: RuleRelations['undecided'][number][] = [];

  constructor(private readonly snapshot: Snapshot) {}

  compare(rules: readonly Rule[]): RuleRelations {
    const flaws = rules.map((rule) => ({ rule, flaw: this.flawOf(rule) }));
    const laws = flaws.flatMap(({ rule, flaw }) => (flaw === 'sound' && rule.atLeast === undefined ? [rule] : []));
    return {
      impossible: flaws.flatMap(({ rule, flaw }) => (isFlaw(flaw) ? [{ rule, flaw }] : [])),
      implied: laws.flatMap((rule) => this.impliedBy(rule, laws) ?? []),
      conflicts: laws.flatMap((later, position) =>
        laws.slice(0, position).flatMap((earlier) => this.conflictOf(earlier, later) ?? []),
      ),
      undecided: this.undecided,
    };
  }

  impossible(rules: readonly Rule[]): RuleRelations['impossible'] {
    return rules.flatMap((rule) => {
      const flaw = this.flawOf(rule);
      return isFlaw(flaw) ? [{ rule, flaw }] : [];
    });
  }

  private flawOf(rule: Rule): Flaw | 'sound' | 'undecided' {
    const { mentions, background } = this.about([rule]);
    const flaw = this.snapshot.layers.of(flawLayer).get(rule.record.id, inputsOf([rule], background), () => {
      const limits = backgroundConstraint(mentions, background);
      return findFlaw(rule, (...demands) => ask(limits, ...demands).status);
    });
    if (flaw === 'undecided') this.undecided.push({ rules: [rule], question: 'impossible' });
    return flaw;
  }

  private impliedBy(rule: Rule, laws: readonly Rule[]): RuleRelations['implied'][number] | undefined {
    for (const by of laws) {
      if (!this.isImplied(rule, by)) continue;
      const isEqual = this.isImplied(by, rule);
      // Of two equal ones the later is named.
      if (!isEqual || by.record.id < rule.record.id) return { rule, by, isEqual };
    }
    return undefined;
  }

  private isImplied(rule: Rule, by: Rule): boolean {
    if (rule === by || !mayBeImplied(rule, by) || !canScopesMeet(rule, by, this.snapshot)) return false;
    const { mentions, background } = this.about([rule, by]);
    const status = this.snapshot.layers
      .of(impliedLayer)
      .get(`${rule.record.id} ${by.record.id}`, inputsOf([rule, by], background), () => {
        const limits = backgroundConstraint(mentions, background);
        return ask(limits, verdictConstraint(rule), not(verdictConstraint(by))).status;
      });
    if (status === 'undecided') this.undecided.push({ rules: [rule, by], question: 'implied' });
    return status === 'unsat';
  }

  private conflictOf(a: Rule, b: Rule): Conflict | undefined {
    const [enough, other] = a.claim === 'enough' ? [a, b] : [b, a];
    if (enough.claim !== 'enough' || other.claim === 'enough' || !isAtLeast(enough.stage, other.stage))
      return undefined;
    if (!canScopesMeet(enough, other, this.snapshot)) return undefined;
    const { mentions, background } = this.about([enough, other]);
    const inputs = inputsOf([enough, other], background);
    const found = this.snapshot.layers.of(conflictLayer).get(`${enough.record.id} ${other.record.id}`, inputs, () => {
      const limits = backgroundConstraint(mentions, background);
      const { status } = ask(limits, verdictConstraint(enough), verdictConstraint(other));
      return status === 'sat' ? smallestWitness(enough, other, this.snapshot, new Effort(stepsPerQuestion)) : status;
    });
    if (found === 'undecided') this.undecided.push({ rules: [enough, other], question: 'conflict' });
    return typeof found === 'string' ? undefined : { enough, other, witness: found };
  }

  private about(rules: readonly Rule[]): { readonly mentions: Mentions; readonly background: Background } {
    const mentions = mentionsOf(rules);
    return { mentions, background: backgroundOf(mentions, this.snapshot) };
  }
}

/** What the relations of all rules rest on. */
function inputsOfAll(snapshot: Snapshot): unknown[] {
  const kinds = ['rule', 'family', 'board', 'maker'] as const;
  return [snapshot.config.worksAt, ...kinds.flatMap((kind): readonly unknown[] => snapshot.records(kind))];
}

/** What an answer rests on, so that an edit elsewhere leaves it valid. */
function inputsOf(rules: readonly Rule[], { families, retracted, revisions }: Background): unknown[] {
  return [...rules, ...families, ...retracted, ...revisions.map(({ board }) => board)];
}

function ask(...demands: readonly Constraint[]): Answer {
  const solver = new Solver(new Effort(stepsPerQuestion));
  for (const demand of demands) solver.require(demand);
  return solver.solve();
}

function isFlaw(flaw: Flaw | 'sound' | 'undecided'): flaw is Flaw {
  return flaw !== 'sound' && flaw !== 'undecided';
}

/** The first of a rule's flaws, in the order of the type. */
function findFlaw(
  rule: Rule,
  statusOf: (...demands: readonly Constraint[]) => Answer['status'],
): Flaw | 'sound' | 'undecided' {
  const [scope, when] = [scopeConstraint(rule), whenConstraint(rule)];
  const questions: readonly (readonly [Flaw, Constraint])[] = [
    ['scope', scope],
    ['never-met', all(scope, when)],
    ...(rule.claim === 'needs' ? [['never-broken', all(scope, not(when))] as const] : []),
  ];
  for (const [flaw, demand] of questions) {
    const status = statusOf(demand);
    if (status === 'undecided') return 'undecided';
    if (status === 'unsat') return flaw;
  }
  return 'sound';
}

/** Whether results against the one rule are against the other too, wherever the swaps are, and no exception makes a difference. */
function mayBeImplied(rule: Rule, by: Rule): boolean {
  if ((rule.claim === 'enough') !== (by.claim === 'enough')) return false;
  const [higher, lower] = rule.claim === 'enough' ? [by, rule] : [rule, by];
  if (!isAtLeast(higher.stage, lower.stage)) return false;
  return [...by.exceptions].every((outcome) => rule.exceptions.has(outcome));
}
