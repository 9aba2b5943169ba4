import { expect, it } from 'vitest';
import { decodeSysfs } from '../../server/src/core/captures/decode-sysfs.ts';
import type { Decoded } from '../../server/src/core/captures/decoded.ts';
import { asciiBytes } from '../harness/encode-vpd.ts';

// Source of the files: Linux, Documentation/ABI/stable/sysfs-block and /sys/devices; the values are invented.

type Files = Readonly<Record<string, string>>;

function decoded(name: string, files: Files): Decoded | undefined {
  return decodeSysfs(new Map(Object.entries(files).map(([file, text]) => [file, asciiBytes(text)])), name);
}

const digits32 = '600005e0005300010123456789abcdef';

it.each<[string, Files, object, (readonly object[])?]>([
  ['size', { size: '16\n', logical_block_size: '512\n' }, { lbaCount: 16, logicalSectorBytes: 512 }],
  ['size', { size: '16', logical_block_size: '4096' }, { lbaCount: 2, logicalSectorBytes: 4096 }],
  ['size', { size: '15', logical_block_size: '4096' }, {}, [{ at: 'size', value: '15' }]],
  ['size', { size: '16' }, {}, [{ at: 'size', value: '16' }]],
  ['size', { size: '16', logical_block_size: '0' }, {}, [{ at: 'size', value: '16' }]],
  ['size', { size: 'many', logical_block_size: '512' }, {}, [{ at: 'size', value: 'many' }]],
  ['size', { size: '9007199254740992', logical_block_size: '512' }, {}, [{ at: 'size', value: '9007199254740992' }]],
  ['size', { logical_block_size: '512' }, {}],
  ['logical_block_size', { logical_block_size: '512\n' }, { logicalSectorBytes: 512 }],
  ['logical_block_size', { logical_block_size: '0' }, {}],
  ['logical_block_size', { logical_block_size: '512 bytes' }, {}],
  ['logical_block_size', { logical_block_size: 'about 512' }, {}],
  ['logical_block_size', { logical_block_size: '0x200' }, {}],
  ['logical_block_size', { logical_block_size: '1e3' }, {}],
  ['logical_block_size', { logical_block_size: '512.0' }, {}],
  ['logical_block_size', { logical_block_size: '-512' }, {}],
  ['logical_block_size', { logical_block_size: '9007199254740992' }, {}],
  ['logical_block_size', {}, {}],
  ['physical_block_size', { physical_block_size: '4096\n' }, { physicalSectorBytes: 4096 }],
  ['physical_block_size', { physical_block_size: '0' }, {}],
  ['physical_block_size', { physical_block_size: '' }, {}],
  ['rotational', { rotational: '0\n' }, { rpm: 0 }],
  ['rotational', { rotational: '1\n' }, {}],
  ['removable', { removable: '0\n' }, {}, [{ at: 'removable', value: '0' }]],
  ['removable', { removable: '\n' }, {}],
  ['vendor', { vendor: 'ATA     \n' }, {}, [{ at: 'vendor', value: 'ATA' }]],
  ['model', { model: 'TERN\n', vendor: 'WREN' }, { model: 'TERN' }],
  ['model', { model: '\n', vendor: 'WREN' }, {}],
  ['model', { model: 'WREN TERN 200005', vendor: 'WREN' }, { model: 'WREN TERN 200005' }],
  ['model', { model: 'WREN TERN 20005', vendor: 'ATA' }, { model: 'WREN TERN 20005' }],
  ['model', { model: 'WREN TERN 200005', vendor: 'ATA' }, {}, [{ at: 'model', value: 'WREN TERN 200005' }]],
  ['rev', { rev: '1.02\n', vendor: 'WREN' }, { firmware: '1.02' }],
  ['rev', { rev: '1.02\n', vendor: 'ATA\n' }, {}, [{ at: 'rev', value: '1.02' }]],
  ['rev', { rev: '' }, {}],
  ['wwid', { wwid: 'naa.500005E000530001\n' }, { wwn: '500005e000530001' }],
  ['wwid', { wwid: `NAA.${digits32}` }, { wwn: digits32 }],
  ['wwid', { wwid: 'naa.500005e00053000' }, {}],
  ['wwid', { wwid: 'naa.500005e0005300012' }, {}],
  ['wwid', { wwid: `naa.${digits32}0` }, {}],
  ['wwid', { wwid: `naa.5${digits32.slice(1)}` }, {}],
  ['wwid', { wwid: 'x naa.500005e000530001' }, {}],
  ['wwid', { wwid: 't10.ATA     WREN TERN 2' }, {}],
  ['wwid', {}, {}],
  [
    'inquiry',
    { inquiry: '\x00\x01\x05\x02\xff\x00\x00\x07WREN' },
    {},
    [{ at: 'bytes 0 to 7', value: '00010502ff000007' }],
  ],
  ['inquiry', {}, {}],
  ['path', { path: 'pci0000:00/usb2/2-1/host6' }, { transport: 'usb' }],
  ['path', { path: 'pci0000:00/ata1/host0' }, { transport: 'ata' }],
  ['path', { path: 'pci0000:00/host2/port-2:0/end_device-2:0' }, { transport: 'sas' }],
  ['path', { path: 'pci0000:00/host2/rport-2:0-0' }, { transport: 'fc' }],
  ['path', { path: 'pci0000:00/ata12/usb2' }, { transport: 'ata' }],
  ['path', { path: 'pci0000:00/usb12/ata1' }, { transport: 'usb' }],
  ['path', { path: 'virtual/xusb2/usb/usb2x/ata1x/xata1/my-end_device-1/my-rport-1' }, {}],
  ['path', {}, {}],
])('takes of `%s` in %j', (name, files, values, unnamed = []) => {
  expect(decoded(name, files)).toStrictEqual({ format: undefined, values, problems: [], unnamed });
});

it('takes nothing of a file that it does not know, or that holds no text', () => {
  expect(decoded('uevent', { uevent: 'x' })).toBeUndefined();
  expect(decoded('model', { model: 'T\u00e9rn' })?.values).toEqual({});
  expect(decoded('model', { model: 'TE\nRN' })?.values).toEqual({ model: 'TERN' });
});
