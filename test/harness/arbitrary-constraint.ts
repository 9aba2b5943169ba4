import fc from 'fast-check';
import {
  atMost,
  type Constraint,
  equal,
  flag,
  isIn,
  known,
  type Slot,
  type Sort,
  slot,
  type Value,
  within,
} from '../../server/src/core/solver/terms.ts';

/** A sort with its slots, the constants to ask for, and values enough that trying these alone decides every question. */
interface Field {
  readonly slots: readonly Slot[];
  readonly constants: readonly Value[];
  readonly enough: readonly Value[];
}

function field(sort: Sort, count: number, constants: readonly Value[], enough: readonly Value[]): Field {
  const slots = Array.from({ length: count }, (_, number) => slot(`${sort.name} ${number + 1}`, sort));
  return { slots, constants, enough };
}

/** A few slots of every sort there is; the list and the short range have fewer values than slots. */
const fields: readonly Field[] = [
  field({ name: 'text', holds: 'texts' }, 3, ['a', 'b'], ['a', 'b', 'c', 'd', 'e']),
  field({ name: 'choice', holds: ['x', 'y'] }, 3, ['x', 'y', 'z'], ['x', 'y']),
  field({ name: 'count', holds: 'integers', from: 1, to: 3 }, 4, [0, 1, 2, 3, 4], [1, 2, 3]),
  field(
    { name: 'size', holds: 'numbers', from: 0, isFromOpen: true },
    2,
    [0, 1, 2],
    [0.25, 0.5, 1, 1.25, 1.5, 2, 3, 4],
  ),
  field({ name: 'day', holds: 'days', from: 0, to: 4 }, 3, [0, 2, 4, 5], [0, 1, 2, 3, 4]),
];

const flagNames = ['p', 'q', 'r', 's'] as const;

/** Every slot with the values that are enough to try. */
export const slotValues: ReadonlyMap<string, readonly Value[]> = new Map(
  fields.flatMap(({ slots, enough }) => slots.map(({ name }) => [name, enough] as const)),
);

const arbitraryAtom: fc.Arbitrary<Constraint> = fc.oneof(
  fc.constantFrom(...flagNames).map(flag),
  ...fields.map(({ slots, constants }) => {
    const one = fc.constantFrom(...slots);
    const constant = fc.constantFrom(...constants);
    const set = fc.uniqueArray(constant, { maxLength: 2 }).map((anyOf) => ({ anyOf }));
    const isNumber = typeof constants[0] === 'number';
    const end = constant.map(Number);
    const range = fc.oneof(
      end.map((from) => ({ from })),
      end.map((to) => ({ to })),
      fc.tuple(end, end).map(([from, to]) => ({ from, to })),
    );
    return fc.oneof(
      fc.tuple(one, one).map(([a, b]) => equal(a, b)),
      fc.tuple(one, constant).map(([a, value]) => equal(known(value), a)),
      fc.tuple(one, isNumber ? fc.oneof(set, range) : set).map(([a, values]) => isIn(a, values)),
      ...(slots[0]?.sort.holds === 'days'
        ? [fc.tuple(one, one, fc.integer({ min: 0, max: 3 })).map(([a, b, days]) => within(a, b, days))]
        : []),
    );
  }),
);

/** Constraints over these slots and flags, nested a few deep. */
export const arbitraryConstraint: fc.Arbitrary<Constraint> = fc.letrec<{ inner: Constraint }>((tie) => ({
  inner: fc.oneof(
    { maxDepth: 3, withCrossShrink: true },
    { weight: 3, arbitrary: arbitraryAtom },
    { weight: 1, arbitrary: tie('inner').map((part): Constraint => ({ op: 'not', part })) },
    {
      weight: 3,
      arbitrary: fc
        .tuple(fc.constantFrom('all', 'any'), fc.array(tie('inner'), { maxLength: 3 }))
        .map(([op, parts]): Constraint => ({ op, parts })),
    },
    {
      weight: 1,
      arbitrary: fc
        .tuple(fc.nat({ max: 2 }), fc.array(tie('inner'), { maxLength: 4 }))
        .map(([most, parts]) => atMost(most, parts)),
    },
  ),
})).inner;

/** The names of slots and flags a constraint speaks of. */
export function namesIn(constraint: Constraint, found = new Set<string>()): Set<string> {
  if (constraint.op === 'not') namesIn(constraint.part, found);
  else if ('parts' in constraint) for (const part of constraint.parts) namesIn(part, found);
  else if (constraint.op === 'in') found.add(constraint.slot.name);
  else if (constraint.op === 'flag') found.add(`flag ${constraint.name}`);
  else {
    found.add(constraint.a.name);
    if (constraint.b) found.add(constraint.b.name);
  }
  return found;
}
