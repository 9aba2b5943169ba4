import { describe, expect, it } from 'vitest';
import { identityDisagrees } from '../../server/src/core/checks/identity-disagrees.ts';
import { messagesOf, type SwapBase } from '../harness/swap-base.ts';

const family =
  'identity: {serial: platters, firmware: board, power_on_hours: platters, capacity: platters, defect_counts: platters, wwn: both}';

function found(rows: string, more: SwapBase & { readonly rom?: string } = {}): Promise<string[]> {
  const { rom = 'rom: left', ...base } = more;
  return messagesOf(identityDisagrees, {
    family,
    ...base,
    outcome: `${rom}\nidentity: [${rows}]${base.outcome ?? ''}`,
  });
}

describe('identity disagrees', () => {
  it('where a value came with the board of a family that keeps it on the platters', async () => {
    expect(await found('{value: power_on_hours, patient_before: 9120, donor_before: 410, after: 412}')).toEqual([
      '`power_on_hours` `412` in `after` is what donor `d-0118` reported before, so it followed the board; family `tern-2` says `platters`.',
    ]);
  });

  it('where one stayed with the platters though it should come with the board', async () => {
    expect(await found('{value: firmware, patient_before: A1, donor_before: B2, after: a1}')).toEqual([
      '`firmware` `a1` in `after` is what patient `d-0117` reported before, so it followed the platters; family `tern-2` says `board`.',
    ]);
  });

  it('in the other assembly, where the halves are exchanged', async () => {
    const other = '{value: serial, patient_before: "****4F2K", donor_before: "****9Q1C", other_after: "****4F2K"}';
    expect(await found(other)).toEqual([
      '`serial` `****4F2K` in `other_after` is what patient `d-0117` reported before, so it followed the board; family `tern-2` says `platters`.',
    ]);
  });

  it.each([
    [
      'that says both',
      '{value: wwn, patient_before: 500605b0c0ffee00, donor_before: 500605b0c0ffee11, after: 500605b0c0ffee11}',
    ],
    ['that says nothing of it', '{value: model, patient_before: A, donor_before: B, after: B}'],
  ])('not in a family %s', async (_, row) => expect(await found(row)).toEqual([]));

  it.each([
    ['one value before is missing', '{value: serial, donor_before: "****9Q1C", after: "****9Q1C"}'],
    ['both drives had the same', '{value: firmware, patient_before: A1, donor_before: A1, after: A1}'],
    [
      'it is that of neither',
      '{value: serial, patient_before: "****4F2K", donor_before: "****9Q1C", after: "****0000"}',
    ],
    [
      'a digest hides one',
      '{value: serial, patient_before: "digest:00ff00ff00ff00ff", donor_before: "****9Q1C", after: "****9Q1C"}',
    ],
    [
      'sectors of another size may be counted',
      '{value: capacity, patient_before: 500, donor_before: 976773168, after: 976773168}',
    ],
    ['defects may have grown to either', '{value: defect_counts, patient_before: 3, donor_before: 4, after: 4}'],
    ['hours may have grown to either', '{value: power_on_hours, patient_before: 400, donor_before: 410, after: 412}'],
  ])('not where %s', async (_, row) => expect(await found(row)).toEqual([]));

  it('where sizes differ within one way of counting', async () => {
    expect(
      await found('{value: capacity, patient_before: 156301488, donor_before: 195371568, after: 195371568}'),
    ).toHaveLength(1);
  });

  it('not where what stayed may have come with the ROM', async () => {
    const row = '{value: firmware, patient_before: A1, donor_before: B2, after: A1}';
    expect(await found(row, { rom: 'rom: image_written\nrom_proved: read_back' })).toEqual([]);
    expect(await found(row, { rom: 'rom_proved: read_back' })).toEqual([]);
    expect(await found(row, { rom: 'rom: left\nrom_from: d-0117' })).toEqual([]);
    expect(await found(row, { rom: 'rom: not_fitted\nrom_from: d-0118' })).toHaveLength(1);
    // What came with the board cannot have.
    const serial = '{value: serial, patient_before: "****4F2K", donor_before: "****9Q1C", after: "****9Q1C"}';
    expect(await found(serial, { rom: 'rom: image_written\nrom_proved: read_back' })).toHaveLength(1);
  });

  it('not behind a bridge, which answers in its own name, unless it is that of the drive', async () => {
    const row = '{value: serial, patient_before: "****4F2K", donor_before: "****9Q1C", after: "****9Q1C"}';
    const bridge = '\nhost: {port: usb_bridge}';
    expect(await found(row, { outcome: bridge })).toEqual([]);
    expect(await found(row, { outcome: bridge, family: `${family}\ninterface: usb` })).toHaveLength(1);
  });

  it('not where a value before is not that of its drive, which is reported', async () => {
    const row = '{value: serial, patient_before: "****4F2K", donor_before: "****9Q1C", after: "****9Q1C"}';
    expect(await found(row, { patient: 'serial: "****7777"' })).toEqual([]);
  });

  it('not in an outcome that was retracted', async () => {
    const row = '{value: serial, patient_before: "****4F2K", donor_before: "****9Q1C", after: "****9Q1C"}';
    expect(await found(row, { outcome: '\nretracted: {on: 2026-04-01, because: wrong drive}' })).toEqual([]);
  });
});
