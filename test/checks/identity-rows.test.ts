import { describe, expect, it } from 'vitest';
import { hoursWentBack } from '../../server/src/core/checks/hours-went-back.ts';
import { identifyStringInvalid } from '../../server/src/core/checks/identify-string-invalid.ts';
import { identityRowDisagrees } from '../../server/src/core/checks/identity-row-disagrees.ts';
import { messagesOf, type SwapBase } from '../harness/swap-base.ts';

function row(text: string): { outcome: string } {
  return { outcome: `identity: [{${text}}]` };
}

describe('identity-row-disagrees: a row against the drive', () => {
  const seen = (parts: SwapBase): Promise<string[]> => messagesOf(identityRowDisagrees, parts);
  const drives = {
    family: 'sector_bytes: {logical: 512}',
    patient:
      'serial: "****4F2K"\nwwn: "500005e000530001"\nmodel: NT10-21\nfirmware: "2.14"\ncapacity_gb: 1000\nlba_count: 1953525168\npower_on_hours: 100',
    donor: 'serial: "****9Q1C"\nwwn: "500005e000530002"\nmodel: NT10-22',
  };

  it.each([
    'value: serial, patient_before: "****9Q1C"',
    'value: serial, donor_before: "****4F2K"',
    'value: serial, patient_before: WRN0009Q1C',
    'value: wwn, patient_before: "500005e000530002"',
    'value: model, donor_before: NT10-21',
    'value: capacity, patient_before: 1953525169',
    'value: capacity, patient_before: 244190646',
    'value: capacity, patient_before: 976773168',
  ])('%s', async (text) => {
    expect(await seen({ ...drives, ...row(text) })).toHaveLength(1);
  });

  it.each([
    'value: serial, patient_before: "****4F2K"',
    'value: serial, patient_before: "****2k"',
    'value: serial, patient_before: WRN0004F2K',
    'value: serial, patient_before: "digest:5d1c9a0377be42f1"',
    'value: serial, after: "****7777", other_after: "****8888"',
    'value: wwn, patient_before: "0x5000 05E0 0053 0001"',
    'value: wwn, patient_before: "500005e00053"',
    'value: model, patient_before: WREN nt10-21',
    'value: firmware, patient_before: "3.00"',
    'value: capacity, patient_before: 1953525168',
    'value: capacity, patient_before: 1000204886016',
    'value: capacity, patient_before: 1000',
    'value: capacity, patient_before: 0',
    'value: power_on_hours, patient_before: 90',
    'value: defect_counts, patient_before: 4',
  ])('%s fits', async (text) => {
    expect(await seen({ ...drives, ...row(text) })).toEqual([]);
  });

  it('takes any unit where only the nominal capacity is known, and leaves a hidden part alone', async () => {
    const nominal = { patient: 'capacity_gb: 1000' };
    expect(await seen({ ...nominal, ...row('value: capacity, patient_before: 1953525168') })).toEqual([]);
    expect(await seen({ ...nominal, ...row('value: capacity, patient_before: 1000204886016') })).toEqual([]);
    expect(await seen({ ...nominal, ...row('value: capacity, patient_before: 976773168') })).toHaveLength(1);
    const hidden = { patient: `${drives.patient}\nhost_protected: true` };
    expect(await seen({ ...hidden, ...row('value: capacity, patient_before: 976773168') })).toEqual([]);
  });

  it('leaves what came through a bridge, and a retracted drive, alone', async () => {
    const wrong = row('value: serial, patient_before: "****9Q1C"');
    expect(await seen({ ...drives, outcome: `${wrong.outcome}\nhost: {port: usb_bridge}` })).toEqual([]);
    const patient = `${drives.patient}\nretracted: {on: 2026-04-02, because: label of another drive}`;
    expect(await seen({ ...drives, patient, ...wrong })).toEqual([]);
    const retracted = `${wrong.outcome}\nretracted: {on: 2026-04-02, because: mixed up}`;
    expect(await seen({ ...drives, outcome: retracted })).toHaveLength(1);
  });

  it('names value, column, drive and both numbers', async () => {
    expect(await seen({ ...drives, ...row('value: capacity, patient_before: 244190646') })).toEqual([
      'Capacity `244190646` in `patient_before` is not that of patient `d-0117`, which is `1953525168`.',
    ]);
  });
});

describe('identity-row-disagrees: a row against another', () => {
  const seen = (rows: string): Promise<string[]> =>
    messagesOf(identityRowDisagrees, { outcome: `identity: [${rows}]`, patient: 'serial: "****4F2K"' });

  it('reports the later of two that differ in one column', async () => {
    expect(await seen('{value: serial, after: "****4F2K"}, {value: serial, after: "****9Q1C"}')).toEqual([
      'Serial number `****9Q1C` in `after` is not the `****4F2K` of another row.',
    ]);
    expect(await seen('{value: firmware, donor_before: "A1"}, {value: firmware, donor_before: "A2"}')).toHaveLength(1);
    expect(await seen('{value: capacity, after: 1}, {value: capacity, after: 2}')).toHaveLength(1);
  });

  it('reports a value once, where it differs from the drive', async () => {
    expect(
      await seen('{value: serial, patient_before: "****4F2K"}, {value: serial, patient_before: "****9Q1C"}'),
    ).toHaveLength(1);
    expect(
      await seen('{value: serial, patient_before: "****9Q1C"}, {value: serial, patient_before: "****4F2K"}'),
    ).toHaveLength(1);
  });

  it.each([
    '{value: serial, after: "****4F2K"}, {value: serial, after: "****2K"}',
    '{value: serial, after: "****4F2K"}, {value: serial, donor_before: "****9Q1C"}',
    '{value: model, after: nt10  21}, {value: model, after: NT10 21}',
    '{value: power_on_hours, after: 10}, {value: power_on_hours, after: 11}',
  ])('%s agree', async (rows) => {
    expect(await seen(rows)).toEqual([]);
  });
});

describe('identify-string-invalid', () => {
  const seen = (parts: SwapBase): Promise<string[]> =>
    messagesOf(identifyStringInvalid, { family: 'interface: sata', ...parts });

  it.each([
    [`value: serial, patient_before: ${'S'.repeat(21)}`],
    [`value: model, donor_before: ${'M'.repeat(41)}`],
    ['value: firmware, after: "123456789"'],
    ['value: firmware, other_after: "2.14é"'],
    ['value: model, after: "NT10\\t21"'],
  ])('%s', async (text) => {
    expect(await seen(row(text))).toHaveLength(1);
  });

  it.each([
    [`value: serial, patient_before: ${'S'.repeat(20)}`],
    [`value: model, donor_before: ${'M'.repeat(40)}`],
    ['value: firmware, after: "12345678"'],
    [`value: serial, after: "digest:${'0'.repeat(64)}"`],
    ['value: wwn, after: "500005e000530001 and more"'],
  ])('%s is possible', async (text) => {
    expect(await seen(row(text))).toEqual([]);
  });

  it('judges ATA drives only, and none behind a bridge', async () => {
    const long = row('value: firmware, after: "123456789"');
    expect(await seen({ ...long, family: 'interface: pata' })).toHaveLength(1);
    expect(await seen({ ...long, family: 'interface: sas' })).toEqual([]);
    expect(await seen({ ...long, family: 'rpm: 7200' })).toEqual([]);
    expect(await seen({ outcome: `${long.outcome}\nhost: {port: usb_bridge}` })).toEqual([]);
  });

  it('reports a text that stands in several columns once', async () => {
    expect(await seen(row('value: firmware, patient_before: "123456789", after: "123456789"'))).toEqual([
      'Firmware `123456789` has 9 characters, but an ATA drive reports at most 8.',
    ]);
  });
});

describe('hours-went-back', () => {
  const seen = (text: string): Promise<string[]> => messagesOf(hoursWentBack, row(`value: power_on_hours, ${text}`));

  it.each([
    ['patient_before: 100, donor_before: 200, after: 99', 1],
    ['patient_before: 100, donor_before: 200, after: 100', 0],
    ['patient_before: 200, donor_before: 100, after: 150', 0],
    ['patient_before: 100, donor_before: 200, other_after: 99', 1],
    ['patient_before: 100, after: 99', 0],
    ['donor_before: 100, after: 99', 0],
  ])('%s: %i', async (text, count) => {
    expect(await seen(text)).toHaveLength(count);
  });
});
