import { describe, expect, it } from 'vitest';
import type { IdentityValue } from '../../schemas/gen/records.ts';
import { followsOf, isSameReport, mostHoursBetween, type Reported } from '../../server/src/core/captures/follows.ts';

it.each<readonly [IdentityValue, Reported, Reported, boolean | undefined]>([
  ['serial', 'WRN0A4F2K', '****4F2K', true],
  ['serial', 'WRN0A4F2K', '****9Q1C', false],
  ['serial', 'WRN0A4F2K', 'digest:00', undefined],
  ['wwn', '5027ce1b9d229a27', '0x5027CE1B9D229A27', true],
  ['wwn', '5027ce1b9d229a27', '5027ce1b9d229a28', false],
  ['wwn', 'none', 'none', undefined],
  ['model', 'Tern 2', 'TERN 2', true],
  ['model', '****4F2K', 'WRN0A4F2K', false],
  ['firmware', '0x5027ce1b9d229a27', '5027ce1b9d229a27', false],
  ['power_on_hours', 5, 5, true],
  ['power_on_hours', 5, 6, false],
  ['power_on_hours', 5, '5', undefined],
  ['power_on_hours', '5', 5, undefined],
  ['defect_counts', 5, 6, false],
  ['capacity', 100, 100, true],
  ['capacity', 100, 699, false],
  ['capacity', 699, 100, false],
  // Sectors may be of 512 or of 4096 bytes, eight times as many, or counts of something else.
  ['capacity', 100, 700, undefined],
  ['capacity', 800, 100, undefined],
  ['capacity', { bytes: 100 }, { bytes: 100 }, true],
  ['capacity', { bytes: 100 }, { bytes: 800 }, false],
  ['capacity', { bytes: 100 }, 100, undefined],
  ['capacity', 100, { bytes: 100 }, undefined],
  ['model', undefined, 'A', undefined],
  ['model', 'A', undefined, undefined],
  ['model', undefined, undefined, undefined],
])('of `%s`, %j and %j are the same: %j', (value, a, b, isSame) => {
  expect(isSameReport(value, a, b)).toBe(isSame);
});

describe('a value', () => {
  it.each<readonly [IdentityValue, Reported, Reported, Reported, string]>([
    ['model', 'A', 'A', 'B', 'platters'],
    ['model', 'B', 'A', 'B', 'board'],
    ['model', 'A', 'A', 'A', 'same_on_both'],
    ['model', 'C', 'A', 'B', 'neither'],
    ['model', undefined, 'A', 'B', 'not_known'],
    ['model', 'A', undefined, 'B', 'not_known'],
    ['model', 'A', 'A', undefined, 'not_known'],
    ['serial', '****4F2K', '****4F2K', '****9Q1C', 'platters'],
    ['serial', '****4F2K', 'WRN0A4F2K', 'XRN0A4F2K', 'same_on_both'],
    // Three characters may be shared by chance.
    ['serial', '****F2K', 'WRN0A4F2K', 'XRN0AAF2K', 'not_known'],
    ['serial', 'WRN0A4F2K', '****F2K', '****F2K', 'not_known'],
    ['serial', 'WRN0A4F2K', 'WRN0A4F2K', '****F2K ', 'not_known'],
    ['serial', 'F2K', 'F2K', 'F2K', 'same_on_both'],
    ['model', '****F2K', '****F2K', '****F2K', 'same_on_both'],
    ['power_on_hours', 100, 100, 101, 'platters'],
    ['power_on_hours', 100, 101, 100, 'board'],
    ['power_on_hours', 99, 100, 101, 'neither'],
    ['power_on_hours', 101, 100, 101, 'same_on_both'],
    ['power_on_hours', 100 + 744, 100, 9999, 'platters'],
    ['power_on_hours', 100 + 745, 100, 9999, 'neither'],
    ['defect_counts', 4, 4, 5, 'platters'],
    ['defect_counts', 999_999, 4, 5, 'same_on_both'],
    ['defect_counts', 3, 4, 3, 'board'],
    ['capacity', 100, 100, 200, 'platters'],
    ['capacity', 101, 100, 200, 'neither'],
  ])('`%s` %j follows of %j and %j', (value, reported, ofPlatters, ofBoard, follows) => {
    expect(followsOf({ value, reported, ofPlatters, ofBoard })).toBe(follows);
  });

  it('has grown by no more hours than there were, of each half by itself', () => {
    const grown = (platters: number | undefined, board: number | undefined): string =>
      followsOf({
        value: 'power_on_hours',
        reported: 110,
        ofPlatters: 100,
        ofBoard: 100,
        hoursSince: { platters, board },
      });
    expect([grown(10, 10), grown(9, 10), grown(10, 9), grown(9, 9), grown(undefined, 9), grown(9, undefined)]).toEqual([
      'same_on_both',
      'board',
      'platters',
      'neither',
      'platters',
      'board',
    ]);
  });

  it('grows for a month at most where nobody knows for how long', () => {
    expect(mostHoursBetween).toBe(744);
  });
});
