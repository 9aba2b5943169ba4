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
import { driveValues, familyValues, hours, idPools, partValues, revs, storedIn } from '../harness/base-values.ts';
import { openSlots, replaceRecord } from '../harness/open-slots.ts';
import { fileOfRecord, snapshotOfBase } from '../harness/snapshot-of.ts';

function swapsOf(snapshot: Snapshot): Swap[] {
  return snapshot.records('outcome').flatMap((outcome) => swapOf(outcome, snapshot) ?? []);
}

/** The swaps of any two drives, whether somebody tried them or not. */
function allSwaps(snapshot: Snapshot): Swap[] {
  const [outcome] = snapshot.records('outcome');
  const ids = snapshot.records('drive').map(({ id }) => id);
  if (!outcome) return [];
  return ids.flatMap((patient) =>
    ids.flatMap((donor) => swapOf({ ...outcome, data: { ...outcome.data, patient, donor } }, snapshot) ?? []),
  );
}

function truthOf(condition: ConditionData, swap: Swap): Truth {
  return evaluate(toFormula(condition, []), swap);
}

/** A question to ask of every swap, and its name for a failure. */
interface Question {
  readonly name: string;
  readonly ask: (swap: Swap) => Truth;
}

/** Every entry a condition may have, each with every value that random bases are made of; scopes and conditions of the rules besides. */
function questionsFor(snapshot: Snapshot, conditions: readonly ConditionData[]): Question[] {
  const rules = snapshot.records('rule').flatMap((record) => toRule(record, 'reads') ?? []);
  return [
    ...[...everyEntry, ...conditions].map((condition) => {
      const formula = toFormula(condition, []);
      return { name: JSON.stringify(condition), ask: (swap: Swap) => evaluate(formula, swap) };
    }),
    ...rules.flatMap((rule) => [
      { name: `when of ${rule.record.id}`, ask: (swap: Swap) => evaluate(rule.when, swap) },
      { name: `scope of ${rule.record.id}`, ask: (swap: Swap) => isInScope(rule, swap.patient) },
    ]),
  ];
}

const { sticker, controller, motor_driver, contact_pads, rom_package } = partValues;
const sideValues: Readonly<Record<string, readonly (string | number)[]>> = {
  ...driveValues,
  ...{ sticker, controller, motor_driver, contact_pads, rom_package, power_on_hours: hours },
  ...{ family: idPools.family, board: idPools.board, rev: ['kestrel/A1', 'kestrel/A2', 'merlin/A1'] },
};

const everyEntry: readonly ConditionData[] = [
  ...comparableKeys.map((key): ConditionData => ({ same: [key] })),
  ...(['same', 'drop_in', 'other'] as const).map((revision): ConditionData => ({ revision })),
  { rom_travels: true },
  { made_within_weeks: 0 },
  { made_within_weeks: 26 },
  ...Object.entries(sideValues).flatMap(([key, values]) =>
    values.flatMap((value): ConditionData[] => [{ patient: { [key]: value } }, { donor: { [key]: value } }]),
  ),
  ...Object.entries<readonly (string | number)[]>({ ...familyValues, adaptives: storedIn }).flatMap(([key, values]) =>
    values.map((value): ConditionData => ({ family_is: { [key]: value } })),
  ),
];

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
    const order = fc.array(fc.nat(), { minLength: 10, maxLength: 80 });
    const conditions = fc.array(arbitraryCondition(2), { maxLength: 8 });
    assertLaw(
      60,
      fc.property(arbitraryBase, conditions, order, (start, more, picks) => {
        let base = start;
        let snapshot = snapshotOfBase(base);
        const questions = questionsFor(snapshot, more);
        const answers = (): Truth[] => swapsOf(snapshot).flatMap((swap) => questions.map(({ ask }) => ask(swap)));
        let before = answers();
        for (const pick of picks) {
          const slots = openSlots(base);
          const slot = slots[pick % slots.length];
          if (!slot) return;
          const learnt = slot.learn(Math.floor(pick / slots.length));
          const file = fileOfRecord(learnt);
          base = replaceRecord(base, learnt);
          snapshot = snapshot.with([{ path: file.path, file }]);
          const after = answers();
          const broken = before.findIndex((truth, position) => truth !== undefined && after[position] !== truth);
          if (broken >= 0) {
            const { name } = questions[broken % questions.length]!;
            throw new Error(`${name} was ${before[broken]}, and is ${after[broken]} once ${slot.name} is known`);
          }
          before = after;
        }
      }),
    );
  });

  it('same and different are opposites', () => {
    assertLaw(
      60,
      fc.property(arbitraryBase, (base) => {
        for (const swap of allSwaps(snapshotOfBase(base))) {
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
      150,
      fc.property(arbitraryBase, (base) => {
        for (const swap of allSwaps(snapshotOfBase(base))) {
          const [patient, donor] = [swap.patient, swap.donor].map(({ drive }): Fitted => drive.data.board ?? {});
          const expected = dropInByClaims(base, patient ?? {}, donor ?? {});
          const found = truthOf({ revision: 'drop_in' }, swap);
          const isRecorded = patient?.rev !== undefined && donor?.id !== undefined && swap.donor.revision !== undefined;
          if (found !== expected && (isRecorded || found !== undefined)) {
            const names = `${swap.patient.drive.id} with the board of ${swap.donor.drive.id}`;
            throw new Error(`${names}: ${found}, but by the claims ${expected}`);
          }
        }
      }),
    );
  });
});
