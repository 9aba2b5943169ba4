/**
 * Which rules can never both hold, which say nothing of their own, and which can never be met or broken: decided over all swaps there
 * could be, not over those recorded.
 * Laws (test/property/rule-relations.property.test.ts):
 * - an outside solver gives the same answer for every pair of rules
 * - a witness written as records triggers both rules, and no smaller part of it does
 * - no swap with fewer values recorded triggers both rules
 * - an edited base gives what a fresh one gives
 * - no outcome that stands against an implied rule speaks for the one that implies it
 */
import type { Formula } from '../conditions/formula.ts';
import { derive, type Steps } from '../index/derivation.ts';
import type { Layer } from '../index/memo.ts';
import type { Snapshot } from '../index/snapshot.ts';
import { Effort } from '../solver/effort.ts';
import { type Answer, holds, type Model, Solver } from '../solver/solver.ts';
import { all, type Constraint, not } from '../solver/terms.ts';
import { isAtLeast } from '../terms/stages.ts';
import { candidateModels, modelInScope } from './candidate-models.ts';
import { followingFromRules } from './following-from-rules.ts';
import { type Mentions, mentionsOf } from './mentions.ts';
import { type Background, backgroundConstraint, backgroundOf } from './possible-swap.ts';
import type { Rule } from './rule.ts';
import { scopeConstraint, verdictConstraint, whenConstraint } from './rule-constraints.ts';
import { canScopesMeet } from './rule-scopes.ts';
import { smallestWitness, type Witness } from './witness.ts';

/** Steps that one question about rules may take: many times what conditions of everyday rules do. */
export const stepsPerQuestion = 100_000;

/** Steps that the search for a smallest witness may take: it asks for one value after the other. */
const stepsPerWitness = 20 * stepsPerQuestion;

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

/** What is known of a rule by itself; of a sound one with a swap it speaks out on. */
type Soundness = Flaw | 'undecided' | Model;

const soundnessLayer: Layer<Soundness> = { name: 'soundness of a rule' };
const impliedLayer: Layer<Answer['status']> = { name: 'rule implied' };
const conflictLayer: Layer<Answer['status']> = { name: 'rules in conflict' };

/** How the rules of a base stand to each other. */
export const relationsOfRules = followingFromRules('relations of rules', compareRules);

/** The rules of a base that nothing can meet or break. */
export const rulesThatAreImpossible = followingFromRules('impossible rules', function* (rules, snapshot): Steps<
  ReadonlySet<Rule>
> {
  const { impossible } = yield* new Comparison(snapshot).examine(rules);
  return new Set(impossible.map(({ rule }) => rule));
});

/** How the rules of a base stand to each other. Those that name something unrecorded take no part. */
export function ruleRelations(snapshot: Snapshot): RuleRelations {
  return derive(relationsOfRules, snapshot);
}

/** The rules that nothing can meet or break, as far as that is decided; the same set for as long as nothing it rests on changes. */
export function impossibleRules(snapshot: Snapshot): ReadonlySet<Rule> {
  return derive(rulesThatAreImpossible, snapshot);
}

/** How these rules, given by id, stand to each other before the families and boards of a base. */
export function compareRules(rules: readonly Rule[], snapshot: Snapshot): Steps<RuleRelations> {
  return new Comparison(snapshot).compare(rules);
}

/**
 * Whether every swap and result against a law is against another one too, whatever either excepts; false where that takes too many
 * steps. Of rates the same is said as if they were laws.
 */
export function isLawImplied(rule: Rule, by: Rule, snapshot: Snapshot): boolean {
  const [one, other] = [rule, by].map((law): Rule => ({ ...law, exceptions: new Set() }));
  return one !== undefined && other !== undefined && new Comparison(snapshot).isImplied(one, other);
}

class Comparison {
  private readonly undecided: RuleRelations['undecided'][number][] = [];

  constructor(private readonly snapshot: Snapshot) {}

  *compare(rules: readonly Rule[]): Steps<RuleRelations> {
    const { impossible, laws } = yield* this.examine(rules);
    const implied: RuleRelations['implied'][number][] = [];
    for (const rule of laws) {
      const one = this.impliedBy(rule, laws);
      if (one) implied.push(one);
      yield;
    }
    const conflicts: Conflict[] = [];
    for (const [position, later] of laws.entries()) {
      for (const earlier of laws.slice(0, position)) {
        const conflict = this.conflictOf(earlier, later);
        if (conflict) conflicts.push(conflict);
      }
      yield;
    }
    return { impossible, implied, conflicts, undecided: this.undecided };
  }

  /** The rules that nothing can meet or break, and the laws among those that are sound. */
  *examine(rules: readonly Rule[]): Steps<Pick<RuleRelations, 'impossible'> & { readonly laws: readonly Rule[] }> {
    const impossible: { rule: Rule; flaw: Flaw }[] = [];
    const laws: Rule[] = [];
    for (const rule of rules) {
      const soundness = this.soundnessOf(rule);
      yield;
      if (typeof soundness === 'string') {
        if (soundness !== 'undecided') impossible.push({ rule, flaw: soundness });
      } else if (rule.atLeast === undefined) laws.push(rule);
    }
    return { impossible, laws };
  }

  private soundnessOf(rule: Rule): Soundness {
    const matter = this.about([rule]);
    const inputs = inputsOf([rule], matter.background);
    const soundness = this.snapshot.layers
      .of(soundnessLayer)
      .get(rule.record.id, inputs, () => examine(rule, (demand) => ask(matter, demand, modelInScope(rule))));
    if (soundness === 'undecided') this.undecided.push({ rules: [rule], question: 'impossible' });
    return soundness;
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

  isImplied(rule: Rule, by: Rule): boolean {
    if (rule === by || !mayBeImplied(rule, by) || !canScopesMeet(rule, by, this.snapshot)) return false;
    const matter = this.about([rule, by]);
    const status = this.snapshot.layers
      .of(impliedLayer)
      .get(`${rule.record.id} ${by.record.id}`, inputsOf([rule, by], matter.background), () => {
        const start = this.soundnessOf(rule);
        const demand = all(verdictConstraint(rule), not(verdictConstraint(by)));
        return ask(matter, demand, typeof start === 'string' ? modelInScope(rule) : start).status;
      });
    if (status === 'undecided') this.undecided.push({ rules: [rule, by], question: 'implied' });
    return status === 'unsat';
  }

  private conflictOf(a: Rule, b: Rule): Conflict | undefined {
    const [enough, other] = a.claim === 'enough' ? [a, b] : [b, a];
    if (enough.claim !== 'enough' || other.claim === 'enough' || !isAtLeast(enough.stage, other.stage))
      return undefined;
    if (!canScopesMeet(enough, other, this.snapshot) || isSettledByForm(enough, other)) return undefined;
    const matter = this.about([enough, other]);
    const inputs = inputsOf([enough, other], matter.background);
    const status = this.snapshot.layers
      .of(conflictLayer)
      .get(
        `${enough.record.id} ${other.record.id}`,
        inputs,
        () => ask(matter, all(verdictConstraint(enough), verdictConstraint(other)), modelInScope(enough)).status,
      );
    const witness =
      status === 'sat' ? smallestWitness(enough, other, this.snapshot, new Effort(stepsPerWitness)) : status;
    if (witness === 'undecided') this.undecided.push({ rules: [enough, other], question: 'conflict' });
    return typeof witness === 'string' ? undefined : { enough, other, witness };
  }

  private about(rules: readonly Rule[]): Matter {
    const mentions = mentionsOf(rules);
    return { mentions, background: backgroundOf(mentions, this.snapshot) };
  }
}

/** What an answer rests on, so that an edit elsewhere leaves it valid. */
function inputsOf(rules: readonly Rule[], { families, retracted, revisions }: Background): unknown[] {
  return [...rules, ...families, ...retracted, ...revisions.map(({ board }) => board)];
}

/** What a question is about. */
interface Matter {
  readonly mentions: Mentions;
  readonly background: Background;
}

/** Whether a swap meets a demand. `start` is one that may come near it. */
function ask({ mentions, background }: Matter, demand: Constraint, start: Model): Answer {
  const demands = all(backgroundConstraint(mentions, background), demand);
  for (const model of candidateModels(start, mentions, background)) {
    if (holds(demands, model)) return { status: 'sat', model };
  }
  const solver = new Solver(new Effort(stepsPerQuestion));
  solver.require(demands);
  return solver.solve();
}

/** The first of a rule's flaws, in the order of the type; of a rule without one a swap it speaks out on. */
function examine(rule: Rule, answerTo: (demand: Constraint) => Answer): Soundness {
  const [scope, when] = [scopeConstraint(rule), whenConstraint(rule)];
  const questions: readonly (readonly [Flaw, Constraint])[] = [
    ['scope', scope],
    ['never-met', all(scope, when)],
    ...(rule.claim === 'needs' ? [['never-broken', all(scope, not(when))] as const] : []),
  ];
  let last: Soundness = 'undecided';
  for (const [flaw, demand] of questions) {
    const answer = answerTo(demand);
    if (answer.status === 'unsat') return flaw;
    if (answer.status === 'undecided') return 'undecided';
    last = answer.model;
  }
  return last;
}

/**
 * Whether the form of two conditions alone shows that no swap can meet the `enough` rule and be called impossible by the other:
 * all that is needed, or the opposite of what prevents, stands word for word in what is enough.
 */
function isSettledByForm(enough: Rule, other: Rule): boolean {
  const granted = new Set(conjuncts(enough.when).map(keyOf));
  const parts = conjuncts(other.when);
  if (other.claim === 'needs') return parts.every((part) => granted.has(keyOf(part)));
  return parts.some((part) => granted.has(keyOf(part.op === 'not' ? part.part : { op: 'not', part })));
}

/** The parts of a condition that all have to hold. */
function conjuncts(formula: Formula): readonly Formula[] {
  return formula.op === 'all' ? formula.parts.flatMap(conjuncts) : [formula];
}

/** What a formula says, wherever it stands. */
function keyOf(formula: Formula): string {
  return JSON.stringify(formula, (key, value: unknown) => (key === 'path' ? undefined : value));
}

/**
 * Whether results against the one rule are against the other too, wherever the swaps are, and no exception makes a difference.
 */
function mayBeImplied(rule: Rule, by: Rule): boolean {
  if ((rule.claim === 'enough') !== (by.claim === 'enough')) return false;
  const [higher, lower] = rule.claim === 'enough' ? [by, rule] : [rule, by];
  if (!isAtLeast(higher.stage, lower.stage)) return false;
  return [...by.exceptions].every((outcome) => rule.exceptions.has(outcome));
}
