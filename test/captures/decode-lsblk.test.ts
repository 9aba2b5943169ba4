import { describe, expect, it } from 'vitest';
import { decodeLsblk, isLsblk } from '../../server/src/core/captures/decode-lsblk.ts';
import type { JsonMap } from '../../server/src/core/captures/json-fields.ts';

// Source of the keys: util-linux, misc-utils/lsblk.c; the values are invented.

function ofDisk(disk: JsonMap) {
  return decodeLsblk({ blockdevices: [disk] });
}

it.each<readonly [JsonMap, boolean]>([
  [{ blockdevices: [] }, true],
  [{ blockdevices: {} }, false],
  [{}, false],
])('%j is its output: %j', (root, isOutput) => {
  expect(isLsblk(root)).toBe(isOutput);
});

describe('which disk is meant', () => {
  const refused = (message: string) => ({
    format: 'lsblk_json',
    values: {},
    problems: [{ severity: 'error', message }],
    unnamed: [],
  });
  const named = (count: number) => Array.from({ length: count }, (_, at) => ({ name: `sd${'abcdefghi'[at]}` }));

  it.each<readonly [string, readonly JsonMap[], string]>([
    ['none', [], 'It lists no disk.'],
    ['nothing but a part', [{ type: 'part' }], 'It lists no disk.'],
    [
      'two',
      [{ name: 'sda', type: 'disk' }, { name: 17 }],
      'It lists 2 disks, `sda` and `?`, so that nobody can tell which one is meant.',
    ],
    [
      'eight',
      named(8),
      'It lists 8 disks, `sda`, `sdb`, `sdc`, `sdd`, `sde`, `sdf`, `sdg` and `sdh`, so that nobody can tell which one is meant.',
    ],
    [
      'nine',
      named(9),
      'It lists 9 disks, `sda`, `sdb`, `sdc`, `sdd`, `sde`, `sdf`, `sdg` and `sdh` and others, so that nobody can tell which one is meant.',
    ],
  ])('of %s', (_, blockdevices, message) => {
    expect(decodeLsblk({ blockdevices })).toStrictEqual(refused(message));
  });

  it('of one without a type, among others', () => {
    const { values } = decodeLsblk({ blockdevices: [{ type: 'rom', model: 'A' }, { model: 'B' }] });
    expect(values).toStrictEqual({ model: 'B' });
  });
});

it.each<[JsonMap, object, object?]>([
  [
    { serial: 'WRN0A4F2K', model: 'TERN', rev: '1.02' },
    { serial: 'WRN0A4F2K', model: 'TERN', firmware: '1.02' },
  ],
  [{ wwn: '0x500005e000530001' }, { wwn: '500005e000530001' }],
  [{ wwn: 'eui.0011' }, {}, [{ at: 'wwn', value: 'eui.0011' }]],
  [
    { 'log-sec': 512, 'phy-sec': 4096 },
    { logicalSectorBytes: 512, physicalSectorBytes: 4096 },
  ],
  [
    { 'log-sec': 512, size: 1024 },
    { logicalSectorBytes: 512, lbaCount: 2 },
  ],
  [
    { 'log-sec': 512, size: '1024' },
    { logicalSectorBytes: 512, lbaCount: 2 },
  ],
  [{ 'log-sec': 512, size: 1000 }, { logicalSectorBytes: 512 }],
  [{ 'log-sec': 512, size: '931.5G' }, { logicalSectorBytes: 512 }, [{ at: 'size', value: '931.5G' }]],
  [{ 'log-sec': 0, size: 0 }, { logicalSectorBytes: 0 }, [{ at: 'size', value: '0' }]],
  [{ size: 1024 }, {}, [{ at: 'size', value: '1024' }]],
  [{ rota: false }, { rpm: 0 }],
  [{ rota: '0' }, { rpm: 0 }],
  [{ rota: true }, {}, [{ at: 'rota', value: 'true' }]],
  [{ tran: 'sata' }, { transport: 'sata' }],
  [
    {
      vendor: 'WREN',
      children: [{ label: 'x' }],
      label: 'x',
      uuid: 'x',
      partuuid: 'x',
      ptuuid: 'x',
      mountpoint: '/',
      fstype: 'x',
    },
    {},
    [{ at: 'vendor', value: 'WREN' }],
  ],
  [
    { 'x-label': 'a', maj: { label: 'b' } },
    {},
    [
      { at: 'x-label', value: 'a' },
      { at: 'maj.label', value: 'b' },
    ],
  ],
])('reads %j', (disk, values, unnamed = []) => {
  expect(ofDisk(disk)).toStrictEqual({ format: 'lsblk_json', values, problems: [], unnamed });
});

it('says of a disk behind USB that a bridge may have answered', () => {
  expect(ofDisk({ tran: 'usb' })).toStrictEqual({
    format: 'lsblk_json',
    values: { transport: 'usb' },
    problems: [
      {
        severity: 'warning',
        message: 'The disk is reached through USB: serial number, model and firmware may be those of a bridge.',
      },
    ],
    unnamed: [],
  });
});
