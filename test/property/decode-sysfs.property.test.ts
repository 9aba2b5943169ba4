import fc from 'fast-check';
import { expect, it } from 'vitest';
import { decodeSysfs } from '../../server/src/core/captures/decode-sysfs.ts';
import { assertLaw } from '../harness/assert-law.ts';

const names = [
  ...['size', 'logical_block_size', 'physical_block_size', 'rotational', 'removable'],
  ...['vendor', 'model', 'rev', 'wwid', 'inquiry', 'path'],
];

const lines = fc.oneof(
  fc.constantFrom(
    '0',
    '1',
    '512',
    '4096',
    '520',
    'ATA     ',
    'naa.500005e012345678',
    `naa.6${'0'.repeat(31)}`,
    'NT10-21',
  ),
  fc.constantFrom('/devices/pci0000:00/usb2/2-1/host7/block/sdc', '/devices/ata1', '18446744073709551615', '-1', ' 7 '),
  fc.nat({ max: 2 ** 31 - 1 }).map(String),
  fc.string({ unit: 'binary' }),
);

const contents = fc.oneof(
  lines.map((line) => new TextEncoder().encode(`${line}\n`)),
  fc.uint8Array({ maxLength: 100 }),
);

const arbitraryFiles = fc.uniqueArray(fc.tuple(fc.constantFrom(...names), contents), { selector: ([name]) => name });

it('whatever the files hold, every value is one that a drive can have', () => {
  const seen = new Set<string>();
  assertLaw(
    5000,
    fc.property(arbitraryFiles, (entries) => {
      const files = new Map(entries);
      for (const name of files.keys()) {
        const { values, unnamed } = decodeSysfs(files, name) ?? { values: undefined, unnamed: [] };
        if (values === undefined) throw new Error(`${name} is not known`);
        for (const [key, value] of Object.entries(values)) {
          seen.add(key);
          if (typeof value === 'number') expect(Number.isSafeInteger(value) && value >= 0).toBe(true);
          else expect(value).toMatch(/^[!-~](?:[ -~]*[!-~])?$/);
        }
        expect(values.logicalSectorBytes).not.toBe(0);
        expect(values.physicalSectorBytes).not.toBe(0);
        expect(values.wwn ?? '5'.repeat(16)).toMatch(/^(?:[0-9a-f]{16}|6[0-9a-f]{31})$/);
        for (const { value } of unnamed) expect(value).not.toBe('');
      }
    }),
  );
  // What no sample brings is not tested.
  expect([...seen].sort()).toEqual(
    ['lbaCount', 'logicalSectorBytes', 'physicalSectorBytes', 'rpm', 'model', 'firmware', 'wwn', 'transport'].sort(),
  );
});
