import { describe, expect, it } from 'vitest';
import { serialDigest } from '../../server/src/host/serial-digest.ts';
import { encodeIdentify } from '../harness/encode-identify.ts';
import { asciiBytes, encodeVpd83, encodeVpd89 } from '../harness/encode-vpd.ts';
import { folderOf, runInside, swaplore, transcript } from '../harness/run-cli.ts';

const serial = 'WRN0A4F2K';
const identify = encodeIdentify({
  serial,
  model: 'WREN TERN 2',
  firmware: 'T2.07',
  wwn: '500005e000530001',
  lbaCount: 1_953_525_168,
  physicalSectorBytes: 4096,
  rpm: 5400,
  formFactor: 3,
  transport: 'sata',
  // The number again, in words of the maker's own: as it is, with its bytes swapped, and spread over two runs.
  words: {
    129: 0x5752,
    130: 0x4e30,
    131: 0x4134,
    132: 0x4632,
    133: 0x4b20,
    140: 0x5257,
    141: 0x304e,
    142: 0x3441,
    143: 0x3246,
    144: 0x204b,
  },
});

it('says what a drive reported, with the serial number masked', () => {
  expect(swaplore({ vpd_pg89: encodeVpd89(identify) }, ['decode', 'vpd_pg89'])).toMatchInlineSnapshot(`
    "vpd_pg89
      SCSI page 89h, in which a host repeats what an ATA drive answered
      Serial number               ****4F2K
      Model                       WREN TERN 2
      Firmware                    T2.07
      World-wide name             500005e000530001 (IEEE prefix 00-00-5E)
      Sector count                1,953,525,168 sectors (1.0002 TB)
      Logical sector              512 bytes
      Physical sector             4,096 bytes
      Speed                       5,400 rpm
      Form factor                 2.5in
      Transport                   sata
      Further fields, as they came:
        translator                linux libata 3.00
        words 129 to 133          ****20
        words 140 to 144          ****
    exit 0"
  `);
});

it('prints the same as data', async () => {
  const folder = folderOf({ 'a.bin': identify, 'b.bin': new Uint8Array(512) });
  const { stdout, code } = await runInside(folder, ['decode', 'a.bin', 'b.bin', '--json']);
  expect(code).toBe(1);
  expect(JSON.parse(stdout)).toEqual([
    {
      file: 'a.bin',
      format: 'ata_identify',
      values: expect.objectContaining({ serial: '****4F2K', lbaCount: 1_953_525_168 }),
      problems: [],
      unnamed: expect.any(Array),
    },
    {
      file: 'b.bin',
      format: null,
      values: {},
      problems: [{ severity: 'error', message: 'All 512 bytes are `00h`: nothing was reported.' }],
      unnamed: [],
    },
  ]);
});

/** Everything a number may be spelt as. */
const spellings = [serial, 'RW0NAF4K2', Buffer.from(serial).toString('hex'), '5257304e34413246'];

describe('serial numbers', () => {
  const t10 = encodeVpd83([{ type: 1, codeSet: 2, content: asciiBytes(`WREN    TERN 2          ${serial}`) }]);
  const damaged = encodeIdentify({ serial: 'WRN0A4F2\u0001K', model: 'WREN TERN 2', firmware: 'T2.07', lbaCount: 1 });
  const files = { 'identify.bin': identify, 'pg89.bin': encodeVpd89(identify), 't10.bin': t10, 'damaged.bin': damaged };

  it.each([[[]], [['--json']]])('are in nothing that is printed, %j', async (options) => {
    const { stdout, stderr } = await runInside(folderOf(files), ['decode', ...Object.keys(files), ...options]);
    expect(stderr).toBe('');
    for (const spelling of spellings) expect(stdout.toLowerCase()).not.toContain(spelling.toLowerCase());
  });

  it('are printed in full where somebody asks, outside a base and in one that keeps them so', async () => {
    const outside = folderOf(files);
    expect((await runInside(outside, ['decode', 't10.bin', '--serials', 'full'])).stdout).toContain(serial);
    const full = folderOf({ ...files, 'swaplore.yaml': 'swaplore: 1\nserials: full\n' });
    expect((await runInside(full, ['decode', 'identify.bin'])).stdout).toContain(serial);
    expect((await runInside(full, ['decode', 'identify.bin', '--serials', 'masked'])).stdout).not.toContain(serial);
  });

  it('are printed as digests where there is a key', async () => {
    const key = new Uint8Array(32).fill(1);
    const program = { version: '0.0.0', findSerialKey: () => ({ key }) };
    const { stdout } = await runInside(folderOf(files), ['decode', 'pg89.bin', '--serials', 'digest'], {}, program);
    expect(stdout).toContain(serialDigest(serial, key));
    for (const spelling of spellings) expect(stdout).not.toContain(spelling);
  });

  it('stay masked in a base that keeps them masked, and where its config is damaged', async () => {
    const base = folderOf({ ...files, 'swaplore.yaml': 'swaplore: 1\n', 'other/swaplore.yaml': 'serials: [full\n' });
    expect(transcript(await runInside(base, ['decode', 'identify.bin', '--serials', 'full']))).toMatchInlineSnapshot(`
      "! swaplore: The base masks serial numbers, so none can be written in full.
      ! Nothing was decoded.
      exit 2"
    `);
    const { stdout } = await runInside(base, ['decode', 'identify.bin', '--folder', 'other']);
    expect(stdout).not.toContain(serial);
  });
});

it.each([
  [['decode', 'gone.bin']],
  [['decode', '.']],
  [['decode', '/dev/zero']],
  [['decode', 'a.bin', '--serials', 'some']],
  [['decode', 'a.bin', '--folder', '.']],
])('cannot run: %j', async (args) => {
  const { code, stderr, stdout } = await runInside(folderOf({ 'a.bin': identify }), args);
  expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
  expect(stderr).toMatch(/^swaplore: .*\.\n/);
});
