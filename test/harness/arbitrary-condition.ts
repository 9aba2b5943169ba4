import fc from 'fast-check';
import { comparableKeys } from '../../schemas/gen/key-table.ts';
import type { ConditionData } from '../../schemas/gen/records.ts';
import { driveValues, familyValues, hours, idPools, partValues, revs, storedIn } from './base-values.ts';
import { sparse } from './sparse.ts';

/** Conditions nested up to `depth` deep, over every entry a condition may have; a map holds up to two entries, an inner one perhaps none. */
export function arbitraryCondition(depth: number, fewest: 0 | 1 = 1): fc.Arbitrary<ConditionData> {
  const entries: fc.Arbitrary<ConditionData>[] = [
    entry('same', keyList),
    entry('different', keyList),
    entry('rom_travels', fc.boolean()),
    entry('revision', fc.constantFrom('same', 'drop_in', 'other')),
    entry('patient', sideCondition),
    entry('donor', sideCondition),
    entry('family_is', familyCondition),
    entry('made_within_weeks', fc.constantFrom(0, 4, 26, 100)),
  ];
  if (depth > 0) {
    const inner = fc.array(arbitraryCondition(depth - 1, 0), { maxLength: 2 });
    for (const name of ['all', 'any', 'none'] as const) entries.push(entry(name, inner));
  }
  return fc
    .array(fc.oneof(...entries), { minLength: fewest, maxLength: 2 })
    .map((maps): ConditionData => Object.assign({}, ...maps) as ConditionData);
}

function entry<Key extends keyof ConditionData>(
  key: Key,
  value: fc.Arbitrary<NonNullable<ConditionData[Key]>>,
): fc.Arbitrary<ConditionData> {
  return value.map((inside): ConditionData => ({ [key]: inside }));
}

const keyList = fc.subarray([...comparableKeys], { minLength: 0, maxLength: 2 });

/** One value, or a list of them. */
function choice<Value>(values: readonly Value[]): fc.Arbitrary<Value | Value[]> {
  return fc.oneof(fc.constantFrom(...values), fc.subarray([...values], { minLength: 1 }));
}

/** One value, a list, or a range that may be open at either end. */
function rangeOrChoice<Value extends number | string>(
  values: readonly Value[],
  bounds: readonly Value[] = values,
): fc.Arbitrary<Value | Value[] | { from?: Value; to?: Value }> {
  const bound = fc.constantFrom(...bounds);
  return fc.oneof(choice(values), sparse({ from: bound, to: bound }));
}

const madeBounds: readonly (number | string)[] = [2012, 2013, ...driveValues.made];
const revisionNames = idPools.board.flatMap((board) => revs.map((rev) => `${board}/${rev}`));

const { capacity_gb, heads, made: _made, ...texts } = driveValues;
const { contact_pads, ...parts } = partValues;

/** What may be asked of one drive: one or two keys. */
const sideCondition = fc
  .array(
    fc.oneof(
      ...Object.entries({ ...texts, ...parts }).map(([key, values]) => keyed(key, choice<string>(values))),
      ...Object.entries({ capacity_gb, heads, contact_pads, power_on_hours: hours }).map(([key, values]) =>
        keyed(key, rangeOrChoice<number>(values)),
      ),
      keyed('made', rangeOrChoice(madeBounds)),
      keyed('family', choice<string>(idPools.family)),
      keyed('board', choice<string>(idPools.board)),
      keyed('rev', choice<string>(revisionNames)),
    ),
    { minLength: 1, maxLength: 2 },
  )
  .map((maps) => Object.assign({}, ...maps) as NonNullable<ConditionData['patient']>);

const { height_mm, rpm, ...familyTexts } = familyValues;

const familyCondition = fc.oneof(
  ...Object.entries({ ...familyTexts, adaptives: storedIn }).map(([key, values]) => keyed(key, choice<string>(values))),
  ...Object.entries({ height_mm, rpm }).map(([key, values]) => keyed(key, rangeOrChoice<number>(values))),
) as fc.Arbitrary<NonNullable<ConditionData['family_is']>>;

function keyed(key: string, value: fc.Arbitrary<unknown>): fc.Arbitrary<Record<string, unknown>> {
  return value.map((inside) => ({ [key]: inside }));
}
