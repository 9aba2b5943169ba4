import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Side } from '../../server/src/core/conditions/swap.ts';
import type { Snapshot } from '../../server/src/core/index/snapshot.ts';
import { type Rule, rulesOf } from '../../server/src/core/reasoning/rule.ts';
import { type Conflict, compareRules, type RuleRelations } from '../../server/src/core/reasoning/rule-relations.ts';
import { type Relation, ruleResults, standing } from '../../server/src/core/reasoning/rule-results.ts';
import type { Witness } from '../../server/src/core/reasoning/witness.ts';
import { isAtLeast, type Stage } from '../../server/src/core/terms/stages.ts';
import { evidenceOf } from '../../server/src/core/verdicts/evidence.ts';
import type { PlainBase } from '../harness/arbitrary-base.ts';
import { arbitraryRuleBase } from '../harness/arbitrary-rule-base.ts';
import { assertLaw, expectOften } from '../harness/assert-law.ts';
import { driveValues, idPools, partValues } from '../harness/base-values.ts';
import { drained } from '../harness/drained.ts';
import { replaceRecord } from '../harness/open-slots.ts';
import { type Oracle, openOracle, questions } from '../harness/rule-oracle.ts';
import { fileOfRecord, snapshotOfBase } from '../harness/snapshot-of.ts';
import { witnessId, writeWitness } from '../harness/write-witness.ts';

type PlainRule = PlainBase['rule'][number];

let oracle: Oracle;
beforeAll(async () => {
  oracle = await openOracle();
});
afterAll(() => oracle.close());

/** The relations of all rules, those that name something unrecorded included: the oracle knows what may be. */
function relationsIn(snapshot: Snapshot): RuleRelations {
  return drained(compareRules(rulesOf(snapshot), snapshot));
}

function stageOf(rule: PlainRule): Stage {
  return rule.stage ?? 'reads';
}

/** What the rules of a base are found to be, as lines. */
function found(base: PlainBase): string[] {
  const { impossible, implied, conflicts, undecided } = relationsIn(snapshotOfBase(base));
  expect(undecided).toEqual([]);
  return [
    ...impossible.map(({ rule, flaw }) => `${rule.record.id}: ${flaw}`),
    ...implied.map(({ rule }) => `${rule.record.id} is implied`),
    ...conflicts.map(({ enough, other }: Conflict) => `${enough.record.id} excludes ${other.record.id}`),
  ].sort();
}

/** How often each answer came up, so that the comparison is not one of silences. */
const seen = { pairs: 0, asked: 0, flawed: 0, implied: 0, conflicts: 0, sound: 0 };

/** The same by the oracle. */
function expected(base: PlainBase): string[] {
  const demands: string[] = [];
  const lines: ((answers: readonly boolean[]) => string[])[] = [];
  const ask = (demand: string): number => demands.push(demand) - 1;
  const flaws = base.rule.map((rule) => {
    const [scope, meets, fails] = [questions.inScope(rule), questions.meets(rule), questions.fails(rule)].map(ask);
    return (answers: readonly boolean[]): string | undefined => {
      if (!answers[scope!]) return 'scope';
      if (!answers[meets!]) return 'never-met';
      return rule.claim === 'needs' && !answers[fails!] ? 'never-broken' : undefined;
    };
  });
  lines.push((answers) =>
    base.rule.flatMap((rule, position) => {
      const flaw = flaws[position]!(answers);
      return flaw === undefined ? [] : [`${rule.id}: ${flaw}`];
    }),
  );
  const against = (rule: PlainRule): string => (rule.claim === 'needs' ? questions.fails(rule) : questions.meets(rule));
  const implies = new Map<string, number>();
  for (const [position, rule] of base.rule.entries()) {
    for (const [otherPosition, other] of base.rule.entries()) {
      if (position === otherPosition) continue;
      if (position < otherPosition) seen.pairs++;
      const areSound = (answers: readonly boolean[]): boolean =>
        flaws[position]!(answers) === undefined && flaws[otherPosition]!(answers) === undefined;
      const isSuccess = (one: PlainRule): boolean => one.claim !== 'enough';
      const [high, low] = isSuccess(rule) ? [rule, other] : [other, rule];
      if (isSuccess(rule) === isSuccess(other) && isAtLeast(stageOf(high), stageOf(low))) {
        implies.set(`${rule.id} ${other.id}`, ask(`(and ${against(rule)} (not ${against(other)}))`));
      }
      if (rule.claim === 'enough' && isSuccess(other) && isAtLeast(stageOf(rule), stageOf(other))) {
        const position = ask(`(and ${against(rule)} ${against(other)})`);
        lines.push((answers) => (answers[position] && areSound(answers) ? [`${rule.id} excludes ${other.id}`] : []));
      }
    }
  }
  lines.push((answers) => {
    const sound = base.rule.filter((_, position) => flaws[position]!(answers) === undefined);
    const isImplied = (rule: PlainRule, by: PlainRule): boolean => {
      const position = implies.get(`${rule.id} ${by.id}`);
      return position !== undefined && !answers[position];
    };
    return sound.flatMap((rule) =>
      sound.some((by) => by !== rule && isImplied(rule, by) && (!isImplied(by, rule) || by.id < rule.id))
        ? [`${rule.id} is implied`]
        : [],
    );
  });
  const answers = oracle.ask(base, demands);
  seen.asked += demands.length;
  const all = lines.flatMap((line) => line(answers)).sort();
  seen.flawed += all.filter((line) => line.includes(':')).length;
  seen.implied += all.filter((line) => line.endsWith('is implied')).length;
  seen.conflicts += all.filter((line) => line.includes('excludes')).length;
  seen.sound += base.rule.length - all.filter((line) => line.includes(':')).length;
  return all;
}

/** How a witness stands to rules once it is written as records. A drive of no family stays so. */
function standings(rules: readonly Rule[], base: PlainBase, witness: Witness): (Relation | undefined)[] {
  const snapshot = snapshotOfBase(writeWitness(base, witness));
  const outcome = snapshot.find('outcome', witnessId)!;
  const evidence = evidenceOf(outcome, snapshot);
  const swap = evidence.swap!;
  const patient = witness.family === undefined ? withoutFamily(swap.patient) : swap.patient;
  const donor = witness.donor.family === undefined ? withoutFamily(swap.donor) : swap.donor;
  return rules.map((rule) => standing(rule, { ...evidence, swap: { ...swap, patient, donor } }));
}

function withoutFamily(side: Side): Side {
  const { family: _, ...data } = side.drive.data;
  return { ...side, family: undefined, drive: { ...side.drive, data } };
}

/**
 * The witness with one value less, each in turn, leaving out those that others stand with. A revision without its name is still a
 * board.
 */
function* partsOf(witness: Witness): Generator<Witness> {
  for (const side of ['patient', 'donor'] as const) {
    for (const [key, value] of Object.entries(witness[side])) {
      const { contact_pads, rom_package } = witness[side];
      if (key === 'rev' && (contact_pads !== undefined || rom_package !== undefined)) continue;
      const { [key]: _, ...rest } = witness[side] as Record<string, string>;
      const board = key === 'rev' ? { board: String(value).split('/')[0] } : {};
      yield { ...witness, [side]: { ...rest, ...board } };
    }
  }
  for (const key of Object.keys(witness.facts)) {
    const { [key]: _, ...rest } = witness.facts as Record<string, string>;
    yield { ...witness, facts: rest };
  }
  const isLast = Object.keys(witness.facts).length === 0 && witness.maker === undefined;
  if (isLast && witness.family !== undefined) yield { ...witness, family: undefined };
  if (witness.rom !== undefined) yield { ...witness, rom: undefined };
}

function summaryOf({ impossible, implied, conflicts, undecided }: RuleRelations): unknown {
  return {
    impossible: impossible.map(({ rule, flaw }) => [rule.record.id, flaw]),
    implied: implied.map(({ rule, by, isEqual }) => [rule.record.id, by.record.id, isEqual]),
    conflicts: conflicts.map(({ enough, other, witness }) => [enough.record.id, other.record.id, witness]),
    undecided: undecided.length,
  };
}

const empty: Witness = {
  ...{ patient: {}, donor: {}, family: undefined, facts: {}, maker: undefined, rom: undefined, dropIn: false },
};

/** What a witness records: a revision takes its board and its name. */
function valuesIn({ patient, donor, family, facts, maker, rom, dropIn }: Witness): unknown[] {
  const sides = [patient, donor].flatMap((side) => [
    ...Object.keys(side),
    ...(side.rev === undefined ? [] : ['board']),
  ]);
  return [...sides, ...Object.keys(facts), ...[family, maker, rom].filter(Boolean), ...(dropIn ? [dropIn] : [])];
}

/** A value that may be recorded. Of one slot only one can be. */
interface Choice {
  readonly slot: string;
  readonly add: (witness: Witness) => Witness;
}

/** Single values of everything that rules speak of: those that random bases are made of, and two that nothing names. */
function choicesFor(rules: readonly Rule[], base: PlainBase): Choice[] {
  const text = JSON.stringify(rules.map(({ record }) => [record.data.when, record.data.applies_to]));
  const keys = Object.keys(sideValues).filter((key) => text.includes(`"${key}"`));
  const board = /"(board|rev|revision|controller|motor_driver)"/.test(text) ? ['board'] : [];
  const sides = [...new Set([...keys, ...board])].flatMap((key) =>
    (['patient', 'donor'] as const).flatMap((side) =>
      sideValues[key]!.map(
        (value): Choice => ({
          slot: `${side} ${key}`,
          add: (witness) => ({ ...witness, [side]: { ...witness[side], [key]: value } }),
        }),
      ),
    ),
  );
  const family = [...base.family.map(({ id }) => id), 'new-1'];
  return [
    ...sides,
    ...family.map((id): Choice => ({ slot: 'family', add: (witness) => ({ ...witness, family: id }) })),
    ...(['left', 'chip_moved', 'image_written'] as const).map(
      (rom): Choice => ({ slot: 'rom', add: (witness) => ({ ...witness, rom }) }),
    ),
  ];
}

const fresh = ['new-1', 'new-2'];
const sideValues: Readonly<Record<string, readonly (string | number)[]>> = {
  ...Object.fromEntries(
    Object.entries({ ...driveValues, ...partValues }).map(([key, values]) => [
      key,
      typeof values[0] === 'string' && key !== 'made' ? [...values, ...fresh] : values,
    ]),
  ),
  capacity_gb: [500, 1000, 1, 2],
  heads: [2, 4, 1, 3],
  made: ['2010-01-01', '2012-08-03', '2013-06-01', '2014-02-01'],
  power_on_hours: [100, 9000, 1],
  board: [...idPools.board, ...fresh],
};

function* subsets(choices: readonly Choice[], size: number): Generator<Choice[]> {
  if (size === 0) yield [];
  else {
    for (const [position, choice] of choices.entries()) {
      for (const rest of subsets(choices.slice(position + 1), size - 1)) {
        if (rest.every(({ slot }) => slot !== choice.slot)) yield [choice, ...rest];
      }
    }
  }
}

function describeCase(base: PlainBase, witness: Witness): string {
  return JSON.stringify({ witness, rules: base.rule, family: base.family, board: base.board });
}

/** The second rule says what the first does and more. */
function withStricter([first, second, ...rest]: PlainBase['rule']): PlainBase['rule'] {
  if (!first?.when || !second?.when) throw new Error('There are no two rules');
  const whens = [first.when, second.when];
  const when = first.claim === 'needs' ? { all: whens } : { any: whens };
  return [first, { ...first, id: second.id, applies_to: {}, when }, ...rest];
}

function withoutMarkings(drive: PlainBase['drive'][number]): PlainBase['drive'][number] {
  const { controller: _, motor_driver: __, ...board } = drive.board ?? {};
  return { ...drive, board };
}

describe('rules', () => {
  it('an outside solver gives the same answer for every pair of rules', () => {
    const bases = fc.sample(arbitraryRuleBase, { numRuns: 400, seed: 20260314 });
    for (const base of bases) expect(found(base), JSON.stringify(base)).toEqual(expected(base));
    // So that the two do not agree by keeping silent.
    expect(seen.pairs).toBeGreaterThanOrEqual(5000);
    expectOften(Math.min(seen.conflicts, seen.implied, seen.flawed), 150);
  });

  it('a witness written as records triggers both rules, and no smaller part of it does', () => {
    let count = 0;
    assertLaw(
      60,
      fc.property(arbitraryRuleBase, (base) => {
        for (const { enough, other, witness } of relationsIn(snapshotOfBase(base)).conflicts) {
          count++;
          expect(standings([enough, other], base, witness), describeCase(base, witness)).toEqual([
            'support',
            'against',
          ]);
          for (const part of partsOf(witness)) {
            const both = standings([enough, other], base, part);
            expect(both, describeCase(base, part)).not.toEqual(['support', 'against']);
          }
        }
      }),
    );
    expectOften(count, 100);
  });

  it('no swap with fewer values recorded triggers both rules', () => {
    const counts = [0, 0, 0, 0];
    assertLaw(
      60,
      fc.property(arbitraryRuleBase, (base) => {
        for (const { enough, other, witness } of relationsIn(snapshotOfBase(base)).conflicts) {
          const size = valuesIn(witness).length;
          const rules = [enough, other];
          const choices = choicesFor(rules, base);
          // What must be tried grows with every value; and of these parts each would take a revision besides.
          if (size < 2 || size > 3 || counts[size]! >= 12 || choices.some(({ slot }) => /pads|package/.test(slot)))
            continue;
          counts[size]!++;
          for (const some of subsets(choices, size - 1)) {
            const smaller = some.reduce((whole, { add }) => add(whole), empty);
            expect(standings(rules, base, smaller), describeCase(base, smaller)).not.toEqual(['support', 'against']);
          }
        }
      }),
    );
    expectOften(Math.min(counts[2]!, counts[3]!), 5);
  });

  it('an edited base gives what a fresh one gives', () => {
    const kinds = fc.constantFrom('family', 'board', 'rule');
    assertLaw(
      60,
      fc.property(arbitraryRuleBase, arbitraryRuleBase, kinds, fc.nat(), (start, other, kind, pick) => {
        const [replacement] = other[kind].slice(pick % other[kind].length);
        const edited = replaceRecord(start, replacement!);
        const before = snapshotOfBase(start);
        relationsIn(before);
        const after = before.with([replacement!].map(fileOfRecord).map((file) => ({ path: file.path, file })));
        const isThere = start[kind].some(({ id }) => id === replacement!.id);
        const fresh = isThere ? edited : { ...edited, [kind]: [...edited[kind], replacement] };
        expect(summaryOf(relationsIn(after))).toEqual(summaryOf(relationsIn(snapshotOfBase(fresh))));
      }),
    );
  });

  it('no outcome that stands against an implied rule speaks for the one that implies it', () => {
    let count = 0;
    assertLaw(
      300,
      fc.property(arbitraryRuleBase, (start) => {
        // A marking of a drive's own that its revision does not have is against all background.
        const base = { ...start, drive: start.drive.map(withoutMarkings), rule: withStricter(start.rule) };
        const snapshot = snapshotOfBase(base);
        const results = new Map(ruleResults(snapshot).map((result) => [result.rule, result]));
        for (const { rule, by } of relationsIn(snapshot).implied) {
          const against = results.get(rule)?.against ?? [];
          const { support = [], neutral = [] } = results.get(by) ?? {};
          count += against.length;
          expect(against.filter((evidence) => support.includes(evidence) || neutral.includes(evidence))).toEqual([]);
        }
      }),
    );
    expectOften(count, 15);
  });
});
