import { describe, expect, it } from 'vitest';
import type { OutcomeData, OutcomeIdentityData } from '../../schemas/gen/records.ts';
import { identityIntents } from '../../server/src/core/captures/identity-intents.ts';
import type { TracedValue } from '../../server/src/core/captures/trace.ts';
import type { Path } from '../../server/src/core/syntax/tape.ts';

/** What is planned for an outcome that stands third in its file. */
function planned(
  identity: readonly OutcomeIdentityData[] | undefined,
  values: readonly TracedValue[],
  {
    problems = [],
    unusable = [],
  }: { problems?: Parameters<typeof identityIntents>[1]['problems']; unusable?: Path[] } = {},
) {
  const data = (identity === undefined ? {} : { identity }) as OutcomeData;
  const outcome = { kind: 'outcome', id: 'one', data, unusable } as const;
  return identityIntents({ outcome, document: 2 }, { values, problems });
}

const serial: TracedValue = { value: 'serial', patientBefore: '****4F2K', after: '****9Q1C', follows: 'board' };
const hours: TracedValue = {
  value: 'power_on_hours',
  patientBefore: 100,
  donorBefore: 200,
  after: 101,
  otherAfter: 201,
  follows: 'platters',
};
const hoursRow = {
  value: 'power_on_hours',
  patient_before: 100,
  donor_before: 200,
  after: 101,
  other_after: 201,
} as const;
const serialRow = { value: 'serial', patient_before: '****4F2K', after: '****9Q1C' } as const;

describe('where there are no rows', () => {
  it('one is made for each value, its columns in the order of the swap', () => {
    const [intent, ...others] = planned(undefined, [serial, hours]) as readonly unknown[];
    expect(others).toEqual([]);
    expect(intent).toStrictEqual({ intent: 'set', document: 2, path: ['identity'], value: [serialRow, hoursRow] });
    expect(JSON.stringify((intent as { value: unknown }).value)).toBe(JSON.stringify([serialRow, hoursRow]));
  });

  it('none is made of nothing', () => {
    expect(planned(undefined, [])).toEqual([]);
    expect(planned([], [])).toEqual([]);
  });

  it('they are put into a list that is empty', () => {
    expect(planned([], [serial, hours])).toStrictEqual([
      { intent: 'insert', document: 2, path: ['identity', 0], value: serialRow },
      { intent: 'insert', document: 2, path: ['identity', 1], value: hoursRow },
    ]);
  });
});

describe('where there are rows', () => {
  it('those that are missing come behind, and columns where they lack', () => {
    const rows = [{ value: 'model' }, { value: 'power_on_hours', donor_before: 200 }] as const;
    expect(planned(rows, [serial, hours])).toStrictEqual([
      { intent: 'set', document: 2, path: ['identity', 1, 'patient_before'], value: 100 },
      { intent: 'set', document: 2, path: ['identity', 1, 'after'], value: 101 },
      { intent: 'set', document: 2, path: ['identity', 1, 'other_after'], value: 201 },
      { intent: 'insert', document: 2, path: ['identity', 2], value: serialRow },
    ]);
  });

  it('nothing is added to what stands there', () => {
    expect(planned([serialRow, hoursRow], [serial, hours])).toEqual([]);
    expect(planned([hoursRow], [])).toEqual([]);
  });

  it('of several for one value the first is filled in, with what stands in none', () => {
    const rows = [{ value: 'model' }, { value: 'power_on_hours' }, { ...hoursRow, after: undefined }] as never;
    expect(planned(rows, [hours])).toStrictEqual([
      { intent: 'set', document: 2, path: ['identity', 1, 'after'], value: 101 },
    ]);
  });

  it('a number that is the same in other words stays as it is', () => {
    const rows = [{ value: 'serial', patient_before: '****F2K', after: 'digest:00ff00ff00ff00ff' }] as const;
    expect(planned(rows, [serial])).toEqual([]);
  });
});

describe('nothing is planned', () => {
  it('where the captures are at fault', () => {
    const problems = [
      { severity: 'warning', message: 'Something.' },
      { severity: 'error', message: 'Both are of one drive.' },
      { severity: 'error', message: 'Something else.' },
    ] as const;
    expect(planned(undefined, [hours], { problems })).toEqual({
      refused: 'The captures cannot be relied on. Both are of one drive.',
    });
    expect(planned([hoursRow], [hours], { problems: problems.slice(0, 1) })).toEqual([]);
  });

  it('where a row cannot be used', () => {
    expect(planned([], [hours], { unusable: [['identity', 0, 'after']] })).toEqual({
      refused: 'Something in `identity` of outcome `one` cannot be used; that has to be mended first.',
    });
    expect(planned([hoursRow], [hours], { unusable: [['rom']] })).toEqual([]);
  });

  it.each<readonly [string, readonly OutcomeIdentityData[], readonly TracedValue[], string]>([
    [
      'a count',
      [{ value: 'model' }, { ...hoursRow, donor_before: 205 }],
      [hours],
      '`power_on_hours` in `donor_before` is recorded as `205`, but the capture reports `200`.',
    ],
    [
      'a serial number in full, which is not shown',
      [{ ...serialRow, after: 'WRN0C7T3M' }],
      [serial],
      '`serial` in `after` is recorded as another, but the capture reports `****9Q1C`.',
    ],
    [
      'a serial number that is masked',
      [{ ...serialRow, after: '****7T3M' }],
      [serial],
      '`serial` in `after` is recorded as `****7T3M`, but the capture reports `****9Q1C`.',
    ],
    [
      'a value that is no serial number, which is shown',
      [{ value: 'firmware', after: '1.08' }],
      [{ value: 'firmware', after: '1.07', follows: 'board' }],
      '`firmware` in `after` is recorded as `1.08`, but the capture reports `1.07`.',
    ],
    [
      'several, of which the first of each value is told',
      [
        { value: 'serial', patient_before: '****7T3M', after: '****7T3M' },
        { value: 'power_on_hours', after: 1 },
        { value: 'power_on_hours', patient_before: 2 },
      ],
      [serial, hours],
      '`serial` in `patient_before` is recorded as `****7T3M`, but the capture reports `****4F2K`. `power_on_hours` in `patient_before` is recorded as `2`, but the capture reports `100`.',
    ],
    [
      'a later row',
      [hoursRow, { ...hoursRow, other_after: 9 }],
      [hours],
      '`power_on_hours` in `other_after` is recorded as `9`, but the capture reports `201`.',
    ],
  ])('where a row says otherwise: %s', (_, rows, values, refused) => {
    expect(planned(rows, values)).toEqual({ refused });
  });
});
