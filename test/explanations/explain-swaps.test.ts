import { describe, expect, it } from 'vitest';
import type { ConditionData } from '../../schemas/gen/records.ts';
import { describeFormula } from '../../server/src/core/conditions/describe.ts';
import { evaluate } from '../../server/src/core/conditions/evaluate.ts';
import { toFormula } from '../../server/src/core/conditions/formula.ts';
import type { Claim } from '../../server/src/core/explanations/claims-of.ts';
import type { DecidedSwap } from '../../server/src/core/explanations/decided-swaps.ts';
import type { EntryClass } from '../../server/src/core/explanations/entry-classes.ts';
import { type Explanations, explainSwaps } from '../../server/src/core/explanations/explain-swaps.ts';
import { partitionsBy } from '../../server/src/core/explanations/partitions.ts';
import { decidedOf } from '../harness/arbitrary-decided.ts';

const moved = { rom: 'chip_moved', works: true };
const left = { rom: 'left', works: false };

/** Swaps of drives 0 and 1, 2 and 3, and so on. */
function apart(swaps: readonly { rom: string; works: boolean }[], lines: (drive: number) => string = () => '') {
  const drives = Array.from({ length: 2 * swaps.length }, (_, n) => lines(n));
  return decidedOf(
    drives,
    swaps.map((swap, n) => ({ patient: 2 * n, donor: 2 * n + 1, ...swap })),
  );
}

function words({ formula, holds }: Claim): string {
  return `${holds} where ${describeFormula(formula)}`;
}

function find({ hypotheses }: Explanations, wanted: string) {
  return hypotheses.find(({ claim, equals }) => [claim, ...equals].some((one) => words(one) === wanted));
}

/** The weights of all conditions of two of these entries, straight from their definition; under `none`, of none of them. */
function weightsByHand(entries: readonly ConditionData[], decided: readonly DecidedSwap[]): Map<string, number> {
  const conditions = [
    ...entries.map((one) => [one]),
    ...entries.flatMap((one, n) => entries.slice(n + 1).map((other) => [one, other])),
  ];
  const partitions = new Map<string, { size: number; truths: (boolean | undefined)[] }>();
  for (const all of conditions) {
    const truths = decided.map(({ swap }) => evaluate(toFormula({ all }, []), swap));
    if (!truths.includes(true) || !truths.includes(false)) continue;
    const name = partitionOf(truths);
    if (!partitions.has(name)) partitions.set(name, { size: all.length, truths });
  }
  const list = [...partitions.values()];
  const priorOf = (size: number): number => 4 ** -size / list.filter((one) => one.size === size).length;
  const all = list.reduce((sum, { size }) => sum + priorOf(size), 0);
  const joint = new Map<string, number>([['none', atAnyRate(decided) / 2]]);
  for (const [name, { size, truths }] of partitions) {
    const unknown = atAnyRate(decided.filter((_, n) => truths[n] === undefined));
    const either = [true, false].map((way) =>
      decided.reduce((product, { works }, n) => {
        if (truths[n] === undefined) return product;
        return product * ((truths[n] === way) === works ? 0.95 : 0.05);
      }, unknown),
    );
    joint.set(name, ((priorOf(size) / all / 2) * (either[0]! + either[1]!)) / 2);
  }
  const total = [...joint.values()].reduce((sum, one) => sum + one, 0);
  return new Map([...joint].map(([name, one]) => [name, one / total]));
}

function partitionOf(truths: readonly (boolean | undefined)[]): string {
  const first = truths.find((truth) => truth !== undefined);
  return truths.map((truth) => (truth === undefined ? '?' : truth === first ? '1' : '0')).join('');
}

/** The chance of these results where every rate counts alike: summed over ten thousand rates. */
function atAnyRate(decided: readonly DecidedSwap[]): number {
  const rates = Array.from({ length: 10_000 }, (_, n) => (n + 0.5) / 10_000);
  const chances = rates.map((rate) => decided.reduce((chance, { works }) => chance * (works ? rate : 1 - rate), 1));
  return chances.reduce((sum, chance) => sum + chance, 0) / rates.length;
}

describe('weights', () => {
  const lines = [
    'firmware: F1\nmodel: M1\n',
    'firmware: F1\nmodel: M2\n',
    'firmware: F2\nmodel: M1\n',
    'model: M1\n',
    'firmware: F2\n',
  ];
  const swaps = [
    { patient: 0, donor: 1, rom: 'chip_moved', works: true },
    { patient: 0, donor: 2, rom: 'chip_moved', works: false },
    { patient: 1, donor: 2, rom: 'left', works: false },
    { patient: 2, donor: 4, rom: 'not_fitted', works: true },
    { patient: 3, donor: 0, rom: 'left', works: false },
    { patient: 4, donor: 3, rom: 'chip_moved', works: true },
    { patient: 0, donor: 1, rom: 'left', works: false },
  ];
  const entries: ConditionData[] = [
    ...[{ rom_travels: true }, { rom_travels: false }, { same: ['firmware'] }, { different: ['firmware'] }],
    ...[{ same: ['model'] }, { different: ['model'] }],
  ] as ConditionData[];

  it.each([2, 3, 4, 5, 6, 7])('are those of their definition, of the first %i swaps', (most) => {
    const decided = decidedOf(lines, swaps.slice(0, most));
    const { hypotheses, none } = explainSwaps(decided);
    const expected = weightsByHand(entries, decided);
    expect(expected.size).toBe(hypotheses.length + 1);
    expect(none).toBeCloseTo(expected.get('none')!, 7);
    for (const { claim, weight } of hypotheses) {
      const truths = decided.map(({ swap }) => evaluate(claim.formula, swap));
      expect(weight).toBeCloseTo(expected.get(partitionOf(truths))!, 7);
    }
  });

  it('do not change where a swap is done once more with the same result, either way round', () => {
    const again = [...swaps, { patient: 1, donor: 0, rom: 'chip_moved', works: true }];
    const [once, twice] = [swaps, again].map((list) => explainSwaps(decidedOf(lines, list)));
    expect(twice!.none).toBeCloseTo(once!.none, 12);
    expect(twice!.hypotheses.map(({ weight }) => weight)).toEqual(
      once!.hypotheses.map(({ weight }) => expect.closeTo(weight, 12)),
    );
  });

  it('give what can only stand for a variant of the board a quarter where the ROM travelled', () => {
    const weightOf = (key: string, rom: string): number => {
      const decided = apart(
        [true, true, false, false].map((works) => ({ rom, works })),
        (n) => (n < 4 || n % 2 === 0 ? `heads: 2\nfirmware: F1\n` : `${key}: ${key === 'heads' ? 4 : 'F2'}\n`),
      );
      return find(explainSwaps(decided), `works where same: [${key}]`)!.weight;
    };
    expect(weightOf('heads', 'left')).toBeCloseTo(weightOf('firmware', 'left'), 12);
    // Odds against none of them: a prior of 1/2 makes them those of the results alone, one of 1/8 a seventh of that.
    const oddsOf = (key: string): number => 1 / (1 / weightOf(key, 'chip_moved') - 1);
    expect(oddsOf('heads')).toBeCloseTo(oddsOf('firmware') / 7, 9);
  });
});

it('a clean split of five and four pairs comes about by chance once in 126', () => {
  const found = explainSwaps(apart([...Array(5).fill(moved), ...Array(4).fill(left)]));
  const { claim, tally, adjusted } = found.hypotheses[0]!;
  expect(words(claim)).toBe('works where rom_travels: true');
  expect(tally.test).toEqual({ of: 'apart', p: expect.closeTo(1 / 126, 12), least: expect.closeTo(1 / 126, 12) });
  expect(adjusted).toBeCloseTo(1 / 126, 12);
});

it('pairs tried both ways are set against themselves', () => {
  const swaps = [0, 1, 2, 3, 4, 5, 6].flatMap((n) => {
    const pair = { patient: 2 * n, donor: 2 * n + 1 };
    return [
      { ...pair, ...moved, works: n < 6 },
      { ...pair, ...left },
    ];
  });
  const { tally } = explainSwaps(decidedOf(Array(14).fill(''), swaps)).hypotheses[0]!;
  expect(tally.within).toEqual({ onlyWith: 6, onlyWithout: 0, alike: 1 });
  expect(tally.test).toEqual({ of: 'within', p: 2 / 64, least: 2 / 64 });
});

it('a pair with mixed results under one condition is left out of the test', () => {
  const swaps = [
    { patient: 0, donor: 1, ...moved },
    { patient: 0, donor: 1, ...moved, works: false },
    { patient: 2, donor: 3, ...moved },
    { patient: 4, donor: 5, ...left },
  ];
  const { tally } = find(explainSwaps(decidedOf(Array(6).fill(''), swaps)), 'works where rom_travels: true')!;
  expect(tally.mixed).toEqual(['d-0 d-1']);
  expect(tally.apart).toEqual({ withWorked: 1, withFailed: 0, withoutWorked: 0, withoutFailed: 1 });
});

describe('values of a board', () => {
  const boards = (revs: string) =>
    apart(
      [...revs].map((_, n) => ({ rom: 'left', works: n < 2 })),
      (n) => `board: {id: k-10, rev: ${n % 2 === 0 ? 'P' : revs[(n - 1) / 2]}}\n`,
    );

  it('are candidates where two pairs have them and two have not', () => {
    expect(find(explainSwaps(boards('AABB')), 'fails where donor: {rev: k-10/B}')).toBeDefined();
  });

  it('are none where a single pair has them or lacks them', () => {
    const found = explainSwaps(boards('AAAB'));
    expect(found.hypotheses.filter(({ claim }) => claim.condition.donor)).toEqual([]);
  });
});

describe('bounds', () => {
  const many = (pairs: number) =>
    apart(
      Array.from({ length: pairs }, (_, n) => ({ rom: n % 3 === 0 ? 'left' : 'chip_moved', works: n % 2 === 0 })),
      (n) => `firmware: F${n % 5}\nmodel: M${n % 7}\nsite: S${n % 3}\n`,
    );

  it('three entries are tried from twenty decided pairs on', () => {
    expect([...explainSwaps(many(19)).joined.keys()]).toEqual([2]);
    expect([...explainSwaps(many(20)).joined.keys()]).toEqual([2, 3]);
  });

  it('fewer classes are joined where there are many of them or of outcomes', () => {
    const classes = Array.from({ length: 50 }, (): EntryClass => {
      return { truths: Int8Array.of(1, -1), entries: [{ atom: { test: 'rom_travels' }, wanted: true }] };
    });
    expect([...partitionsBy(classes, 2, 20).joined]).toEqual([
      [2, 40],
      [3, 24],
    ]);
    // 2 · 32 · 31 conditions of two entries, and 4/3 · 10 · 9 · 8 of three, are within ten million looks.
    expect([...partitionsBy(classes, 5000, 20).joined]).toEqual([
      [2, 32],
      [3, 12],
    ]);
  });

  it('nothing is to be explained where all came out alike', () => {
    const alike = explainSwaps(apart([moved, { ...left, works: true }]));
    expect(alike).toMatchObject({ hypotheses: [], none: 1, classes: 0 });
  });
});
