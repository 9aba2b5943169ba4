import fc from 'fast-check';
import { readGivenCondition } from '../../server/src/core/checks/given-condition.ts';
import { describeFormula } from '../../server/src/core/conditions/describe.ts';
import { evaluate } from '../../server/src/core/conditions/evaluate.ts';
import { toFormula } from '../../server/src/core/conditions/formula.ts';
import { type Swap, swapOf } from '../../server/src/core/conditions/swap.ts';
import { not as notTrue } from '../../server/src/core/conditions/truth.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { jointBackground } from '../../server/src/core/reasoning/joint-background.ts';
import { conditionConstraint } from '../../server/src/core/solver/condition-constraint.ts';
import { Effort } from '../../server/src/core/solver/effort.ts';
import { RecordedSwap } from '../../server/src/core/solver/recorded-swap.ts';
import { simplify } from '../../server/src/core/solver/simplify.ts';
import { type Answer, holds, Solver } from '../../server/src/core/solver/solver.ts';
import { all, type Constraint, not } from '../../server/src/core/solver/terms.ts';
import { arbitraryBase } from '../harness/arbitrary-base.ts';
import { arbitraryCondition } from '../harness/arbitrary-condition.ts';
import { arbitraryConstraint } from '../harness/arbitrary-constraint.ts';
import { snapshotOf, snapshotOfBase } from '../harness/snapshot-of.ts';
import { ternBench } from '../harness/tern-bench.ts';
import { agree, demand, isSentence } from './agree.ts';
import { madeTarget, type Target } from './target.ts';
import { textOf } from './text-of.ts';

function swapsOf(snapshot: Snapshot): readonly Swap[] {
  return snapshot.records('outcome').flatMap((outcome) => swapOf(outcome, snapshot) ?? []);
}

/** Bases are made once: what differs from sample to sample is the condition. */
const swaps = fc
  .sample(arbitraryBase, { seed: 20_260_314, numRuns: 40 })
  .flatMap((base) => swapsOf(snapshotOfBase(base)));

function statusOf(constraints: readonly Constraint[]): Answer {
  const solver = new Solver(new Effort(1_000_000));
  for (const constraint of constraints) solver.require(constraint);
  return solver.solve();
}

const arbitraryQuestion = fc.record({ condition: arbitraryCondition(2), pick: fc.nat() });

/** A condition asked of a recorded swap, and of the solver. */
const conditions = madeTarget({
  ...{ name: 'conditions', runsInSuite: 300, runs: 20_000, limitMs: 1_000 },
  feeds: 'conditions, on swaps of random bases',
  holds: 'evaluation is the same again, its opposite is opposite, and the solver decides alike what is decided',
  samples: arbitraryQuestion,
  run: ({ condition, pick }) => {
    const swap = swaps[pick % swaps.length];
    if (!swap) return;
    const formula = toFormula(condition, []);
    const truth = evaluate(formula, swap);
    demand(describeFormula(formula) !== '', 'a condition is described', condition);
    agree('a condition asked again', evaluate(toFormula(condition, []), swap), truth);
    agree('the opposite', evaluate(toFormula({ none: [condition] }, []), swap), notTrue(truth));
    const terms = new RecordedSwap(swap);
    const constraint = conditionConstraint(formula, terms);
    const boards = [swap.patient.board, swap.donor.board].flatMap((board) => board ?? []);
    const background = all(...jointBackground(terms.open.values(), terms.claims.values(), boards));
    const canHold = statusOf([background, constraint]).status === 'sat';
    const canFail = statusOf([background, not(constraint)]).status === 'sat';
    demand(canHold || canFail, 'a condition holds or does not', condition);
    if (truth !== undefined) agree('evaluation and solver', [canHold, canFail], [truth, !truth]);
  },
});

/** Constraints of every sort. */
const solver = madeTarget({
  ...{ name: 'solver', runsInSuite: 400, runs: 60_000, limitMs: 2_000 },
  feeds: 'constraints over slots of every sort',
  holds: 'a model meets them, a core has none, and simplifying or turning them round changes no answer',
  samples: fc.array(arbitraryConstraint, { minLength: 1, maxLength: 6 }),
  run: (constraints) => {
    const asked = new Solver(new Effort(1_000_000));
    for (const [at, constraint] of constraints.entries()) asked.suppose(`c${at}`, constraint);
    const answer = asked.solve();
    if (answer.status === 'sat') {
      for (const constraint of constraints) demand(holds(constraint, answer.model), 'a model meets it', constraint);
    } else if (answer.status === 'unsat') {
      const core = constraints.filter((_, at) => answer.core.includes(`c${at}`));
      agree('a core alone', statusOf(core).status, 'unsat');
    }
    agree('simplified', statusOf(constraints.map(simplify)).status, answer.status);
    agree('in reverse', statusOf(constraints.toReversed()).status, answer.status);
  },
});

const base = snapshotOf(ternBench);

/** What somebody types after `--given`. */
function runGiven(bytes: Uint8Array): void {
  const read = readGivenCondition(textOf(bytes), base);
  agree('a typed condition again', readGivenCondition(textOf(bytes), base), read);
  if ('message' in read) {
    demand(isSentence(read.message), 'what is wrong is a sentence', read.message);
    return;
  }
  demand(describeFormula(read.formula) !== '', 'a condition is described', read.data);
  for (const swap of swapsOf(base)) evaluate(read.formula, swap);
}

const typed = [
  '{rom_travels: true, same: [rev, board], different: [site]}',
  '{all: [{any: [{patient: {made: {from: 2012, to: 2014-W03}}}, {donor: {power_on_hours: {to: 9000}}}]}], none: []}',
  '{revision: drop_in, made_within_weeks: 26, family_is: {interface: sata, rpm: [5400, 7200], adaptives: rom_chip}}',
];

/** What reasons about conditions. */
export const reasoningTargets: readonly Target[] = [
  conditions,
  solver,
  {
    ...{ kind: 'bytes', name: 'given', mostBytes: 300, runsInSuite: 400, runs: 8_000, limitMs: 1_000 },
    feeds: 'conditions as they are typed',
    holds: 'they are read or refused in a sentence, the same again',
    seeds: () => typed.map((text) => new TextEncoder().encode(text)),
    run: runGiven,
  },
];
