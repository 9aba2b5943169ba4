import { describe, expect, it } from 'vitest';
import {
  assembliesOf,
  captureColumns,
  captureName,
  hoursBetween,
  reportIn,
  type TracedCapture,
  tracedValues,
} from '../../server/src/core/captures/assembly.ts';
import { tracedDrives } from '../harness/traced-bench.ts';

const { patient, donor, after } = tracedDrives;

it('names captures as outcomes do, in the order of the swap', () => {
  expect(captureColumns).toEqual([
    { role: 'patientBefore', column: 'patient_before' },
    { role: 'donorBefore', column: 'donor_before' },
    { role: 'after', column: 'after' },
    { role: 'otherAfter', column: 'other_after' },
  ]);
  expect(captureColumns.map(({ role }) => captureName(role))).toEqual([
    '`patient_before`',
    '`donor_before`',
    '`after`',
    '`other_after`',
  ]);
});

it('traces these values, each as the capture reports it', () => {
  const capture: TracedCapture = { values: { ...patient, pending: 9 } };
  expect(tracedValues.map((value) => [value, reportIn(value, capture), reportIn(value, { values: {} })])).toEqual([
    ['serial', 'WRN0A4F2K', undefined],
    ['wwn', '5027ce1b9d229a27', undefined],
    ['model', 'TNS2-500', undefined],
    ['firmware', '1.02', undefined],
    ['capacity', 976_773_168, undefined],
    ['power_on_hours', 18_250, undefined],
    ['defect_counts', 4, undefined],
  ]);
  expect(reportIn('serial', undefined)).toBeUndefined();
});

it.each([
  [undefined, 10, undefined],
  [10, undefined, undefined],
  [undefined, undefined, undefined],
  [11, 10, undefined],
  [10, 10, 24],
  [10, 11, 48],
  [0, 30, 744],
])('from day %j to day %j there are at most %j hours', (before, later, hours) => {
  expect(hoursBetween(before, later)).toBe(hours);
});

describe('assemblies', () => {
  const [patientBefore, donorBefore] = [
    { values: patient, taken: 10 },
    { values: donor, taken: 12 },
  ];

  it('are those there are captures of', () => {
    expect(assembliesOf({})).toEqual([]);
    expect(assembliesOf({ patientBefore, donorBefore })).toEqual([]);
    const capture = { values: after };
    expect(assembliesOf({ after: capture }).map(({ role }) => role)).toEqual(['after']);
    expect(assembliesOf({ otherAfter: capture }).map(({ role }) => role)).toEqual(['otherAfter']);
    expect(assembliesOf({ otherAfter: capture, after: capture }).map(({ role }) => role)).toEqual([
      'after',
      'otherAfter',
    ]);
  });

  it('are made of the platters of the one and the board of the other', () => {
    const capture = { values: after, taken: 13 };
    const one = { role: 'patientBefore', capture: patientBefore, hoursSince: 96 };
    const other = { role: 'donorBefore', capture: donorBefore, hoursSince: 48 };
    const [first, second] = assembliesOf({ patientBefore, donorBefore, after: capture, otherAfter: capture });
    expect(first).toStrictEqual({
      role: 'after',
      capture,
      platters: one,
      board: other,
      follows: {
        serial: 'platters',
        wwn: 'platters',
        model: 'same_on_both',
        firmware: 'board',
        capacity: 'same_on_both',
        power_on_hours: 'platters',
        defect_counts: 'same_on_both',
      },
    });
    expect(second).toStrictEqual({
      role: 'otherAfter',
      capture,
      platters: other,
      board: one,
      follows: {
        serial: 'board',
        wwn: 'board',
        model: 'same_on_both',
        firmware: 'platters',
        capacity: 'same_on_both',
        power_on_hours: 'board',
        defect_counts: 'same_on_both',
      },
    });
  });

  it('follow nothing anybody knows where one drive was not captured', () => {
    const [assembly] = assembliesOf({ patientBefore, after: { values: after } });
    expect(assembly?.board).toStrictEqual({ role: 'donorBefore', capture: undefined, hoursSince: undefined });
    expect(new Set(Object.values(assembly?.follows ?? {}))).toEqual(new Set(['not_known']));
  });

  it('cannot have grown by more hours than lie between the captures', () => {
    const grown = (hours: number, taken?: number): string | undefined =>
      assembliesOf({ patientBefore, donorBefore, after: { values: { powerOnHours: 18_250 + hours }, taken } })[0]
        ?.follows.power_on_hours;
    expect([grown(96, 13), grown(97, 13), grown(744), grown(745)]).toEqual([
      'platters',
      'neither',
      'platters',
      'neither',
    ]);
  });

  it.each([
    ['in bytes where all know the size of their sectors', [512, 4096, 512], [800, 200, 1600], 'board'],
    ['in sectors where one does not', [undefined, 512, 512], [800, 1600, 1600], 'board'],
    ['by nothing where one counts none', [512, 512, 512], [800, undefined, 800], 'not_known'],
    ['in bytes that neither has', [512, 512, 512], [800, 1600, 3200], 'neither'],
    ['in bytes that both have', [512, 4096, 512], [800, 100, 800], 'same_on_both'],
    [
      'in sectors of unknown sizes, which may be the same',
      [undefined, undefined, undefined],
      [800, 100, 800],
      'not_known',
    ],
  ])('hold capacities against each other %s', (_, sizes, counts, follows) => {
    const captures = sizes.map((logicalSectorBytes, at) => ({
      values: {
        ...(logicalSectorBytes === undefined ? {} : { logicalSectorBytes }),
        ...(counts[at] === undefined ? {} : { lbaCount: counts[at] }),
      },
    }));
    const [one, other, assembled] = captures;
    expect(assembliesOf({ patientBefore: one, donorBefore: other, after: assembled })[0]?.follows.capacity).toBe(
      follows,
    );
  });
});
