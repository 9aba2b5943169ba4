import { describe, expect, it } from 'vitest';
import { decode } from '../../server/src/core/captures/decode.ts';

function decodeJson(data: unknown) {
  return decode(new TextEncoder().encode(JSON.stringify(data)));
}

// Source of the keys: smartmontools 7, ataprint.cpp and scsiprint.cpp; the values are invented.
const ataDrive = {
  json_format_version: [1, 0],
  smartctl: { version: [7, 3], exit_status: 0 },
  device: { name: '/dev/sdb', info_name: '/dev/sdb [SAT]', type: 'sat', protocol: 'ATA' },
  model_name: 'WREN TERN 2',
  serial_number: 'WRN0A4F2K',
  wwn: { naa: 5, oui: 94, id: 5439489 },
  firmware_version: 'T2.07',
  user_capacity: { blocks: 1953525168, bytes: 1000204886016 },
  logical_block_size: 512,
  physical_block_size: 4096,
  rotation_rate: 5400,
  form_factor: { ata_value: 3, name: '2.5 inches' },
  sata_version: { string: 'SATA 3.0', value: 63 },
  interface_speed: { max: { sata_value: 14, string: '6.0 Gb/s', units_per_second: 60, bits_per_unit: 100000000 } },
  ata_smart_data: { self_test: { polling_minutes: { short: 2 } } },
  ata_smart_attributes: {
    revision: 16,
    table: [
      { id: 5, name: 'Reallocated_Sector_Ct', value: 100, raw: { value: 8, string: '8' } },
      { id: 9, name: 'Power_On_Hours', value: 95, raw: { value: 46179488366817, string: '4321h+00m' } },
      { id: 12, name: 'Power_Cycle_Count', value: 100, raw: { value: 77, string: '77' } },
      { id: 197, name: 'Current_Pending_Sector', value: 100, raw: { value: 3, string: '3' } },
      { id: 198, name: 'Offline_Uncorrectable', value: 100, raw: { value: 2, string: '2' } },
      { id: 240, name: 'Head_Flying_Hours', value: 100, raw: { value: 20015998343868, string: '1' } },
    ],
  },
  power_on_time: { hours: 4321 },
  power_cycle_count: 77,
};

const scsiDrive = {
  smartctl: { exit_status: 0 },
  device: { name: '/dev/sdc', type: 'scsi', protocol: 'SCSI' },
  scsi_vendor: 'WREN',
  scsi_product: 'TERN S',
  scsi_model_name: 'WREN TERN S',
  scsi_revision: '0004',
  user_capacity: { blocks: 585937500, bytes: 300000000000 },
  logical_block_size: 512,
  rotation_rate: 10000,
  form_factor: { scsi_value: 3, name: '2.5 inches' },
  logical_unit_id: '0x500005e000530001',
  serial_number: 'WRN0A4F2K',
  scsi_transport_protocol: { name: 'SAS (SPL-4)', value: 6 },
  power_on_time: { hours: 3862, minutes: 30 },
  scsi_grown_defect_list: 12,
};

describe('smartctl', () => {
  it('on an ATA drive', () => {
    const { values, problems, unnamed, format } = decodeJson(ataDrive);
    expect({ format, problems }).toEqual({ format: 'smartctl_json', problems: [] });
    expect(values).toEqual({
      serial: 'WRN0A4F2K',
      model: 'WREN TERN 2',
      firmware: 'T2.07',
      wwn: '500005e000530001',
      lbaCount: 1953525168,
      logicalSectorBytes: 512,
      physicalSectorBytes: 4096,
      rpm: 5400,
      formFactor: '2.5in',
      transport: 'sata',
      powerOnHours: 4321,
      powerCycles: 77,
      reallocated: 8,
      pending: 3,
      offlineUncorrectable: 2,
    });
    expect(unnamed.map(({ at }) => at)).toContain('attribute 240');
    expect(unnamed).toContainEqual({ at: 'ata_smart_data.self_test', value: '{"polling_minutes":{"short":2}}' });
    expect(unnamed.map(({ at }) => at)).not.toContain('serial_number');
  });

  it('on a SCSI drive', () => {
    expect(decodeJson(scsiDrive)).toMatchObject({
      values: {
        model: 'WREN TERN S',
        firmware: '0004',
        wwn: '500005e000530001',
        lbaCount: 585937500,
        physicalSectorBytes: 512,
        transport: 'sas',
        powerOnHours: 3862,
        reallocated: 12,
      },
      problems: [],
    });
  });

  it.each([
    [1, '`smartctl` could not make sense of its command line or of the device, and asked nothing.', 'error'],
    [2, '`smartctl` could not open the device, or left it asleep.', 'error'],
    [4, 'A command to the drive failed, or an answer had a wrong checksum; values may be missing.', 'warning'],
  ])('that ended with %i', (exit_status, message, severity) => {
    expect(decodeJson({ smartctl: { exit_status } }).problems).toEqual([{ severity, message }]);
  });

  it('that found the drive failing has read it well', () => {
    expect(decodeJson({ ...ataDrive, smartctl: { exit_status: 8 + 16 + 32 + 64 + 128 } }).problems).toEqual([]);
  });

  it('before a bridge it does not know', () => {
    const messages = [{ string: '/dev/sdb: Unknown USB bridge [0x1234:0x5678 (0x214)]', severity: 'error' }];
    expect(decodeJson({ smartctl: { exit_status: 1, messages } }).problems.map(({ message }) => message)).toEqual([
      '`smartctl` could not make sense of its command line or of the device, and asked nothing.',
      '`smartctl` says: `/dev/sdb: Unknown USB bridge [0x1234:0x5678 (0x214)]`.',
      'A USB bridge stands before the drive, and `smartctl` does not know how to ask through it.',
    ]);
  });

  it('that was answered by a bridge', () => {
    const { scsi_transport_protocol: _, ...silent } = scsiDrive;
    expect(decodeJson(silent).problems).toEqual([
      {
        severity: 'warning',
        message:
          'It answered as a SCSI device that names no transport, as USB bridges do: the values may be those of a bridge.',
      },
    ]);
    expect(decodeJson({ ...scsiDrive, scsi_transport_protocol: { name: 'USB (UAS)' } })).toMatchObject({
      values: { transport: 'usb' },
      problems: [
        {
          severity: 'error',
          message: 'A USB bridge answered in the place of the drive: serial number, model and firmware may be its own.',
        },
      ],
    });
  });

  it('whose values are of another form than they should be, which are kept', () => {
    const { values, unnamed } = decodeJson({ smartctl: {}, serial_number: 17, rotation_rate: -1, wwn: { naa: 5 } });
    expect(values).toEqual({});
    expect(unnamed).toEqual([
      { at: 'serial_number', value: '17' },
      { at: 'rotation_rate', value: '-1' },
      { at: 'wwn.naa', value: '5' },
    ]);
  });
});

const disk = {
  name: 'sdb',
  type: 'disk',
  size: 1000204886016,
  serial: 'WRN0A4F2K',
  model: 'WREN TERN 2',
  rev: 'T2.07',
  wwn: '0x500005e000530001',
  'log-sec': 512,
  'phy-sec': 4096,
  rota: true,
  tran: 'sata',
  vendor: 'ATA     ',
  label: 'holiday pictures',
  children: [{ name: 'sdb1', label: 'letters' }],
};

describe('lsblk', () => {
  it('of one disk, among others that are none', () => {
    const blockdevices = [{ name: 'loop0', type: 'loop' }, disk, { name: 'sr0', type: 'rom' }];
    expect(decodeJson({ blockdevices })).toEqual({
      format: 'lsblk_json',
      values: {
        serial: 'WRN0A4F2K',
        model: 'WREN TERN 2',
        firmware: 'T2.07',
        wwn: '500005e000530001',
        lbaCount: 1953525168,
        logicalSectorBytes: 512,
        physicalSectorBytes: 4096,
        transport: 'sata',
      },
      problems: [],
      unnamed: [
        { at: 'name', value: 'sdb' },
        { at: 'type', value: 'disk' },
        { at: 'rota', value: 'true' },
        { at: 'vendor', value: 'ATA     ' },
      ],
    });
  });

  it('keeps nothing of what lies on the disk', () => {
    expect(JSON.stringify(decodeJson({ blockdevices: [disk] }))).not.toMatch(/pictures|letters/);
  });

  it('of several disks says which, and takes none', () => {
    const { values, problems } = decodeJson({ blockdevices: [disk, { ...disk, name: 'sdc' }] });
    expect(values).toEqual({});
    expect(problems).toEqual([
      { severity: 'error', message: 'It lists 2 disks, `sdb` and `sdc`, so that nobody can tell which one is meant.' },
    ]);
  });

  it('without sizes in bytes says nothing of the sectors', () => {
    expect(decodeJson({ blockdevices: [{ ...disk, size: '931.5G' }] }).values.lbaCount).toBeUndefined();
    expect(decodeJson({ blockdevices: [{ ...disk, size: '1000204886016' }] }).values.lbaCount).toBe(1953525168);
  });

  it('through USB says that a bridge may have answered', () => {
    expect(decodeJson({ blockdevices: [{ ...disk, tran: 'usb' }] })).toMatchObject({
      values: { transport: 'usb' },
      problems: [
        {
          severity: 'warning',
          message: 'The disk is reached through USB: serial number, model and firmware may be those of a bridge.',
        },
      ],
    });
  });
});

const unknown =
  'It is nothing that can be read: no IDENTIFY DEVICE or SMART data, no VPD page 80h, 83h or 89h, and no JSON of `smartctl` or `lsblk`.';

it.each([
  ['', 'It is empty.'],
  [' \n', 'It holds nothing but spaces.'],
  ['\0'.repeat(512), 'All 512 bytes are `00h`: nothing was reported.'],
  ['\xff'.repeat(512), 'All 512 bytes are `FFh`: nothing was reported.'],
  ['0000 '.repeat(256), 'All 512 bytes are `00h`: nothing was reported.'],
  ['ffff '.repeat(256), 'All 512 bytes are `FFh`: nothing was reported.'],
  ['{"smartctl": {"exit_', 'It begins like JSON, but is none: it may have been cut short.'],
  ['['.repeat(100_000), 'It begins like JSON, but is none: it may have been cut short.'],
  [`${'['.repeat(100)}${']'.repeat(100)}`, 'It begins like JSON, but is none: it may have been cut short.'],
  ['{"kind": "drive"}', unknown],
  ['kind: drive\n', unknown],
  ['deadbeef deadbeef\n', unknown],
])('says in one sentence what is wrong with %j', (characters, message) => {
  const bytes = Uint8Array.from(characters, (character) => character.charCodeAt(0));
  expect(decode(bytes)).toEqual({
    format: undefined,
    values: {},
    problems: [{ severity: 'error', message }],
    unnamed: [],
  });
});

it('looks at no more than any answer takes up', () => {
  expect(decode(new Uint8Array(1_000_001).fill(0x20)).problems).toEqual([
    { severity: 'error', message: 'It is larger than 1 MB, which no answer of a drive is.' },
  ]);
});
