import { describe, expect, it } from 'vitest';
import { decodeSmartctl, isSmartctl } from '../../server/src/core/captures/decode-smartctl.ts';
import type { JsonMap } from '../../server/src/core/captures/json-fields.ts';

// Source of the keys: smartmontools 7, ataprint.cpp and scsiprint.cpp; the values are invented.

/** What is decoded of these fields, without the form. */
function decoded(root: JsonMap) {
  const { format, ...rest } = decodeSmartctl(root);
  expect(format).toBe('smartctl_json');
  return rest;
}

const nothing = { values: {}, problems: [], unnamed: [] };

it.each<readonly [JsonMap, boolean]>([
  [{ smartctl: {} }, true],
  [{ smartctl: { version: [7, 3] }, device: 'x' }, true],
  [{ device: { protocol: 'ATA' } }, true],
  [{ smartctl: '7.3', device: { protocol: 'ATA' } }, true],
  [{ smartctl: [] }, false],
  [{ smartctl: null }, false],
  [{ device: {} }, false],
  [{ device: { protocol: 1 } }, false],
  [{ device: 'ATA' }, false],
  [{ device: null }, false],
  [{}, false],
])('%j is its output: %j', (root, isOutput) => {
  expect(isSmartctl(root)).toBe(isOutput);
});

describe('how it ended', () => {
  const asked = {
    severity: 'error',
    message: '`smartctl` could not make sense of its command line or of the device, and asked nothing.',
  };
  const opened = { severity: 'error', message: '`smartctl` could not open the device, or left it asleep.' };
  const failed = {
    severity: 'warning',
    message: 'A command to the drive failed, or an answer had a wrong checksum; values may be missing.',
  };

  // Source of the bits: the manual of smartctl, "EXIT STATUS".
  it.each([
    [0, []],
    [1, [asked]],
    [2, [opened]],
    [3, [asked, opened]],
    [4, [failed]],
    [7, [asked, opened, failed]],
    [8, []],
    [248, []],
    [249, [asked]],
  ])('with %i', (exit_status, problems) => {
    expect(decoded({ smartctl: { exit_status } })).toStrictEqual({ ...nothing, problems });
  });

  it('without a word', () => {
    expect(decoded({ smartctl: {} })).toStrictEqual(nothing);
  });
});

describe('what it says', () => {
  const said = (string: unknown, severity: unknown) =>
    decoded({ smartctl: { messages: [{ string, severity }] } } as JsonMap).problems;

  it('is told where it is an error or a warning', () => {
    expect(said(' It `failed`. ', 'error')).toEqual([
      { severity: 'warning', message: "`smartctl` says: `It 'failed'.`." },
    ]);
    expect(said('Slow.', 'warning')).toEqual([{ severity: 'warning', message: '`smartctl` says: `Slow.`.' }]);
    expect(said('A bridge for usb.', 'error')).toHaveLength(1);
  });

  it.each([
    ['a notice', 'Slow.', 'information'],
    ['something of no severity', 'Slow.', undefined],
    ['no text', 17, 'error'],
  ])('is not told where it is %s', (_, string, severity) => {
    expect(said(string, severity)).toEqual([]);
  });

  it('is told of a bridge that it does not know', () => {
    expect(said('Unknown usb Bridge', 'warning')).toEqual([
      { severity: 'warning', message: '`smartctl` says: `Unknown usb Bridge`.' },
      {
        severity: 'error',
        message: 'A USB bridge stands before the drive, and `smartctl` does not know how to ask through it.',
      },
    ]);
  });

  it('is told of every message, those of no use left out', () => {
    const messages = [
      { severity: 'information', string: 'A.' },
      17,
      { severity: 'error', string: 'B.' },
      { severity: 'warning', string: 'C.' },
    ];
    expect(decoded({ smartctl: { messages } }).problems.map(({ message }) => message)).toEqual([
      '`smartctl` says: `B.`.',
      '`smartctl` says: `C.`.',
    ]);
  });
});

it.each<readonly [JsonMap, object]>([
  [{ serial_number: ' WRN0A4F2K ' }, { serial: 'WRN0A4F2K' }],
  [{ model_name: 'TERN', scsi_model_name: 'OTHER' }, { model: 'TERN' }],
  [{ scsi_model_name: 'TERN S' }, { model: 'TERN S' }],
  [{ firmware_version: '1.02', scsi_revision: '2' }, { firmware: '1.02' }],
  [{ scsi_revision: '0004' }, { firmware: '0004' }],
  [{ wwn: { naa: 5, oui: 94, id: 5_439_489 } }, { wwn: '500005e000530001' }],
  [{ wwn: { naa: 5, oui: 94, id: 0x123456789 }, logical_unit_id: 'x' }, { wwn: '500005e123456789' }],
  [{ logical_unit_id: '0x500005e000530001' }, { wwn: '500005e000530001' }],
  [{ wwn: { naa: 5, oui: 94 }, logical_unit_id: '500005e000530001' }, { wwn: '500005e000530001' }],
  [{ logical_block_size: 512 }, { logicalSectorBytes: 512, physicalSectorBytes: 512 }],
  [
    { logical_block_size: 512, physical_block_size: 4096 },
    { logicalSectorBytes: 512, physicalSectorBytes: 4096 },
  ],
  [{ physical_block_size: 4096 }, { physicalSectorBytes: 4096 }],
  [{ user_capacity: { blocks: 10, bytes: 1024 } }, { lbaCount: 10 }],
  [
    { user_capacity: { blocks: 10, bytes: 1024 }, logical_block_size: 512 },
    { lbaCount: 10, logicalSectorBytes: 512, physicalSectorBytes: 512 },
  ],
  [
    { user_capacity: { bytes: 1024 }, logical_block_size: 512 },
    { lbaCount: 2, logicalSectorBytes: 512, physicalSectorBytes: 512 },
  ],
  [
    { user_capacity: { bytes: 1000 }, logical_block_size: 512 },
    { logicalSectorBytes: 512, physicalSectorBytes: 512 },
  ],
  [
    { user_capacity: { bytes: 1024 }, logical_block_size: 0 },
    { logicalSectorBytes: 0, physicalSectorBytes: 0 },
  ],
  [{ user_capacity: { bytes: 1024 } }, {}],
  [{ rotation_rate: 0 }, { rpm: 0 }],
  [{ rotation_rate: 7200 }, { rpm: 7200 }],
  [{ form_factor: { name: '3.5 inches' } }, { formFactor: '3.5in' }],
  [{ form_factor: { name: '1 inch' } }, { formFactor: '1in' }],
  [{ form_factor: { name: '10.25 inches' } }, { formFactor: '10.25in' }],
  [{ form_factor: { name: '< 1.8 inches' } }, { formFactor: 'under 1.8 inches' }],
  [{ form_factor: { name: 'at most 2.5 inches' } }, { formFactor: 'at most 2.5 inches' }],
  [{ form_factor: { name: '2.5 inches high' } }, { formFactor: '2.5 inches high' }],
  [{ form_factor: { name: '2. inches' } }, { formFactor: '2. inches' }],
  [{ form_factor: { name: '2x5 inches' } }, { formFactor: '2x5 inches' }],
  [{ form_factor: { name: 'a < b' } }, { formFactor: 'a < b' }],
  [{ form_factor: { name: 'M.2' } }, { formFactor: 'M.2' }],
  [{ power_on_time: { hours: 12 } }, { powerOnHours: 12 }],
  [{ power_cycle_count: 3 }, { powerCycles: 3 }],
  [{ scsi_grown_defect_list: 4 }, { reallocated: 4 }],
  [{ scsi_pending_defects: { count: 5 } }, { pending: 5 }],
])('reads %j', (root, values) => {
  expect(decoded(root).values).toStrictEqual(values);
  expect(decoded(root).problems).toEqual([]);
});

it('says of a world-wide name that is none why it was not taken', () => {
  expect(decoded({ logical_unit_id: `x${'0'.repeat(60)}` })).toStrictEqual({
    ...nothing,
    problems: [
      {
        severity: 'warning',
        message: `The world-wide name \`x${'0'.repeat(39)}\` holds \`x\`, which is no hexadecimal digit, so that it was not taken.`,
      },
    ],
  });
  expect(decoded({ wwn: { naa: 1, oui: 2, id: 3 } }).problems).toEqual([
    {
      severity: 'warning',
      message:
        'The world-wide name `1000002000000003` begins with `1`, but the first digit of a world-wide name is 2, 3, 5 or 6, so that it was not taken.',
    },
  ]);
});

describe('the way to the drive', () => {
  const bridge = {
    severity: 'error',
    message: 'A USB bridge answered in the place of the drive: serial number, model and firmware may be its own.',
  };
  const silent = {
    severity: 'warning',
    message:
      'It answered as a SCSI device that names no transport, as USB bridges do: the values may be those of a bridge.',
  };
  const scsi = (name?: string, type = 'scsi'): JsonMap => ({
    device: { protocol: 'SCSI', type },
    ...(name === undefined ? {} : { scsi_transport_protocol: { name } }),
  });
  const ata = (type: string): JsonMap => ({ device: { protocol: 'ATA', type } });

  it.each<readonly [string, JsonMap, string | undefined, readonly object[]]>([
    ['is USB by the type of the device', ata('usbjmicron'), 'usb', []],
    ['is USB by the type in capitals', ata('USBJMICRON'), 'usb', []],
    ['is USB by type, for a SCSI device', scsi('SAS', 'usbcypress'), 'usb', [bridge]],
    ['is USB by what carries it', scsi('USB Attached SCSI'), 'usb', [bridge]],
    ['is USB by what carries it, in small letters', scsi('uas'), 'usb', [bridge]],
    ['is USB by type, where nothing is said to carry it', scsi(undefined, 'usbcypress'), 'usb', [bridge]],
    ['is SAS by what carries it', scsi('SAS (SPL-4)'), 'sas', []],
    ['is SAS by what carries it, in small letters', scsi('sas'), 'sas', []],
    ['is named as it is', scsi('Fibre channel'), 'Fibre channel', []],
    ['is named as it is, with SAS within', scsi('iSCSI SAS'), 'iSCSI SAS', []],
    ['is not known of a SCSI device that says nothing', scsi(), undefined, [silent]],
    ['is NVMe', { device: { protocol: 'NVMe', type: 'nvme' } }, 'nvme', []],
    ['is SATA', { ...ata('sat'), sata_version: { string: 'SATA 3.0' } }, 'sata', []],
    [
      'is SATA for what says both',
      { ...ata('sat'), sata_version: { string: 'x' }, pata_version: { string: 'y' } },
      'sata',
      [],
    ],
    ['is parallel', { ...ata('ata'), pata_version: { string: 'ATA/ATAPI-7' } }, 'pata', []],
    ['is not known of an ATA drive that says nothing', ata('sat'), undefined, []],
    ['is not known of another protocol', { device: { protocol: 'X' }, sata_version: { string: 'x' } }, undefined, []],
    ['is not USB by a type with usb within', { device: { protocol: 'NVMe', type: 'x-usb' } }, 'nvme', []],
    ['is not known where nothing is said', {}, undefined, []],
  ])('%s', (_, root, transport, problems) => {
    expect(decoded(root)).toMatchObject({ values: transport === undefined ? {} : { transport }, problems });
    expect(decoded(root).values.transport).toBe(transport);
    expect(decoded(root).problems).toEqual(problems);
  });
});

describe('attributes', () => {
  const of = (table: readonly JsonMap[], more: JsonMap = {}) => decoded({ ata_smart_attributes: { table }, ...more });
  const nine = { id: 9, raw: { value: 0x2a00_0000_10e1 } };

  it('give their counts', () => {
    const table = [5, 9, 12, 197, 198].map((id) => ({ id, raw: { value: 100 + id } }));
    expect(of(table)).toStrictEqual({
      ...nothing,
      values: { reallocated: 105, powerOnHours: 109, powerCycles: 112, pending: 297, offlineUncorrectable: 298 },
    });
  });

  it('that have no name here, or no number, are kept', () => {
    const table: readonly JsonMap[] = [
      { id: 240, raw: { value: 1 } },
      { id: 5, raw: { string: 'x' } },
      { name: 'Nothing', raw: { value: 3 } },
    ];
    expect(of(table)).toStrictEqual({
      ...nothing,
      unnamed: [
        { at: 'attribute 240', value: '{"id":240,"raw":{"value":1}}' },
        { at: 'attribute 5', value: '{"id":5,"raw":{"string":"x"}}' },
      ],
    });
  });

  it('tell the hours where nothing else does, and say what else they hold', () => {
    expect(of([nine])).toStrictEqual({
      ...nothing,
      values: { powerOnHours: 4321 },
      problems: [
        {
          severity: 'warning',
          message:
            'Attribute 9 holds more than a count (raw `46179488370913`); its lowest 24 bits, `4321`, were taken.',
        },
      ],
    });
  });

  it('do not tell the hours where smartctl does', () => {
    expect(of([nine], { power_on_time: { hours: 7 } })).toStrictEqual({ ...nothing, values: { powerOnHours: 7 } });
    const others = of([{ id: 12, raw: { value: 8 } }], { power_on_time: { hours: 7 } });
    expect(others.values).toStrictEqual({ powerOnHours: 7, powerCycles: 8 });
  });

  it('give way to counts that stand elsewhere', () => {
    expect(of([{ id: 12, raw: { value: 8 } }], { power_cycle_count: 9 }).values).toStrictEqual({ powerCycles: 9 });
  });
});

it('keeps what nobody took', () => {
  expect(
    decoded({
      smartctl: { exit_status: 0, version: [7, 3] },
      serial_number: 'A',
      vendor: 'WREN',
      local_time: { asctime: 'x' },
    }).unnamed,
  ).toEqual([
    { at: 'smartctl.version', value: '[7,3]' },
    { at: 'vendor', value: 'WREN' },
    { at: 'local_time.asctime', value: 'x' },
  ]);
});
