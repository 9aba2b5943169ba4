import fc from 'fast-check';
import { describe, it } from 'vitest';
import { comparableKeys } from '../../schemas/gen/key-table.ts';
import type { ConditionData } from '../../schemas/gen/records.ts';
import { evaluate } from '../../server/src/core/conditions/evaluate.ts';
import { toFormula } from '../../server/src/core/conditions/formula.ts';
import { type Swap, swapOf } from '../../server/src/core/conditions/swap.ts';
import { not, type Truth } from '../../server/src/core/conditions/truth.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { isInScope, toRule } from '../../server/src/core/reasoning/rule.ts';
import { foldText } from '../../server/src/core/text/fold.ts';
import { arbitraryBase, type PlainBase } from '../harness/arbitrary-base.ts';
import { arbitraryCondition } from '../harness/arbitrary-condition.ts';
import { assertLaw } from '../harness/assert-law.ts';
import { idPools, revs } from '../harness/base-values.ts';
import { openSlots, replaceRecord } from '../harness/open-slots.ts';
import { fileOfRecord, snapshotOfBase } from '../harness/snapshot-of.ts';

function swapsOf(snapshot: Snapshot): Swap[] {
  return snapshot.records('outcome').flatMap((outcome) => swapOf(outcome, snapshot) ?? []);
}

function truthOf(condition: ConditionData, swap: Swap): Truth {
  return evaluate(toFormula(condition, []), swap);
}

/** Every condition, of the rules and these, and every scope on every swap, by a name that says which. */
function truthsOf(snapshot: Snapshot, conditions: readonly ConditionData[]): Map<string, Truth> {
  const truths = new Map<string, Truth>();
  const rules = snapshot.records('rule').flatMap((record) => toRule(record, 'reads') ?? []);
  for (const swap of swapsOf(snapshot)) {
    for (const condition of conditions) {
      truths.set(`${JSON.stringify(condition)} on ${swap.outcome.id}`, truthOf(condition, swap));
    }
    for (const rule of rules) {
      truths.set(`when of ${rule.record.id} on ${swap.outcome.id}`, evaluate(rule.when, swap));
      truths.set(`scope of ${rule.record.id} on ${swap.outcome.id}`, isInScope(rule, swap.patient));
    }
  }
  return truths;
}

/** A board with its revision. Of an unrecorded one `id` or `rev` is undefined. */
interface Fitted {
  readonly id?: string;
  readonly rev?: string;
}

/**
 * Whether the donor's revision stands in for the patient's, asked of every way in which what is not recorded could be: `true` where
 * all say so, `false` where none does.
 */
function dropInByClaims(base: PlainBase, patient: Fitted, donor: Fitted): Truth {
  const answers = new Set<boolean>();
  for (const here of completionsOf(patient)) {
    for (const there of completionsOf(donor)) {
      for (const unlistedClaims of [[], [here.rev]]) {
        const isEqual = foldText(here.rev) === foldText(there.rev);
        const isClaimed = standsInFor(base, there, unlistedClaims).has(foldText(here.rev));
        answers.add(here.id === there.id && (isEqual || isClaimed));
      }
    }
  }
  const [answer, ...others] = answers;
  return others.length > 0 ? undefined : answer;
}

function completionsOf({ id, rev }: Fitted): Required<Fitted>[] {
  const ids = id === undefined ? [...idPools.board, 'elsewhere'] : [id];
  const names = rev === undefined ? [...revs, 'ZZ'] : [rev];
  return ids.flatMap((board) => names.map((name) => ({ id: board, rev: name })));
}

/** Every revision that can be reached by claims, which of an unlisted one may be these. */
function standsInFor(base: PlainBase, { id, rev }: Required<Fitted>, unlistedClaims: readonly string[]): Set<string> {
  const board = base.board.find((candidate) => candidate.id === id);
  const claims = (name: string): readonly string[] => {
    const listed = board?.revisions?.find((revision) => foldText(revision.rev ?? '') === foldText(name));
    if (!listed) return name === rev ? unlistedClaims : [];
    return board?.retracted ? [] : (listed.drop_in_for ?? []);
  };
  const reached = new Set<string>();
  const visit = (name: string): void => {
    if (reached.has(foldText(name))) return;
    reached.add(foldText(name));
    claims(name).forEach(visit);
  };
  claims(rev).forEach(visit);
  return reached;
}

describe('conditions', () => {
  it('learning a value never turns true into false', () => {
    const order = fc.array(fc.nat(), { minLength: 1, maxLength: 40 });
    const conditions = fc.array(arbitraryCondition(2), { minLength: 1, maxLength: 8 });
    assertLaw(
      150,
      fc.property(arbitraryBase, conditions, order, (start, more, picks) => {
        let base = start;
        let snapshot = snapshotOfBase(base);
        let before = truthsOf(snapshot, more);
        for (const pick of picks) {
          const slots = openSlots(base);
          const slot = slots[pick % slots.length];
          if (!slot) return;
          const learnt = slot.learn(Math.floor(pick / slots.length));
          const file = fileOfRecord(learnt);
          base = replaceRecord(base, learnt);
          snapshot = snapshot.with([{ path: file.path, file }]);
          const after = truthsOf(snapshot, more);
          for (const [question, truth] of before) {
            if (truth !== undefined && after.get(question) !== truth) {
              throw new Error(`${question} was ${truth}, and is ${after.get(question)} once ${slot.name} is known`);
            }
          }
          before = after;
        }
      }),
    );
  });

  it('same and different are opposites', () => {
    assertLaw(
      150,
      fc.property(arbitraryBase, (base) => {
        for (const swap of swapsOf(snapshotOfBase(base))) {
          for (const key of comparableKeys) {
            const same = truthOf({ same: [key] }, swap);
            if (truthOf({ different: [key] }, swap) !== not(same)) throw new Error(key);
          }
        }
      }),
    );
  });

  it('drop-in follows the claims and nothing else', () => {
    assertLaw(
      300,
      fc.property(arbitraryBase, (base) => {
        for (const swap of swapsOf(snapshotOfBase(base))) {
          const [patient, donor] = [swap.patient, swap.donor].map(({ drive }): Fitted => drive.data.board ?? {});
          const expected = dropInByClaims(base, patient ?? {}, donor ?? {});
          const found = truthOf({ revision: 'drop_in' }, swap);
          const isRecorded = patient?.rev !== undefined && donor?.id !== undefined && swap.donor.revision !== undefined;
          if (found !== expected && (isRecorded || found !== undefined)) {
            throw new Error(`${swap.outcome.id}: ${found}, but by the claims ${expected}`);
          }
        }
      }),
    );
  });
});
