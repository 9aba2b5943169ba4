import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { decode } from '../../server/src/core/captures/decode.ts';
import { parseWwn } from '../../server/src/core/terms/wwn.ts';
import { arbitraryIdentify } from '../harness/arbitrary-identify.ts';
import { identifyFixtures, printedFieldsOf, readHdparm, vpdFixtures } from '../harness/capture-fixtures.ts';
import { encodeIdentify, type IdentifyInput, toWordsText } from '../harness/encode-identify.ts';
import { asciiBytes, encodeVpd, encodeVpd83, encodeVpd89, hexBytes } from '../harness/encode-vpd.ts';
import { lacks } from '../lsp/harness/lacks.ts';

/** Programs and lists of Debian that know the same formats: hdparm 9.65, sg3-utils 1.46, ieee-data 20220827. */
const hdparm = '/usr/sbin/hdparm';
const sgVpd = '/usr/bin/sg_vpd';
const registry = '/usr/share/ieee-data/oui.csv';

/** What hdparm says to words. It ends with 0 and prints nothing where it cannot read them, so that something has to be there. */
function askHdparm(words: string): string {
  const { stdout } = spawnSync(hdparm, ['--Istdin'], { input: words, encoding: 'utf8' });
  expect(stdout).toContain('ATA device');
  return stdout;
}

const generated = fc.sample(arbitraryIdentify, { numRuns: 40, seed: 20_260_314 });

describe.skipIf(lacks(hdparm))('hdparm', () => {
  it.each(identifyFixtures())('says today what is kept of it: $name', ({ words, hdparm: kept }) => {
    expect(askHdparm(words).trim()).toBe(kept.trim());
  });

  it('reads the same fields out of generated answers', () => {
    for (const input of generated) {
      const words = toWordsText(encodeIdentify(input));
      const { isChecksumRight, ...printed } = readHdparm(askHdparm(words));
      const decoded = decode(asciiBytes(words));
      expect(printedFieldsOf(decoded), words).toEqual(printed);
      if (isChecksumRight !== undefined) expect(isChecksumRight).toBe(decoded.problems.length === 0);
    }
  });

  const plain: IdentifyInput = {
    serial: 'WRN0A4F2K',
    model: 'WREN TERN 2',
    firmware: 'T2.07',
    lbaCount: 1_953_525_168,
  };

  // Where the two differ, by name: what hdparm 9.65 does, and what the source of the format says.
  it.each([
    ['1025 turns a minute, the lowest rate there is', { 217: 0x0401 }, 'rpm', undefined, 1025],
    ['code 7 of the form factor', { 168: 7 }, 'formFactor', undefined, 'M.2'],
    ['code 8 of the form factor', { 168: 8 }, 'formFactor', undefined, 'MicroSSD'],
    [
      'a world-wide name announced by word 87 alone',
      { 84: 0x4063, 87: 0x4163, 108: 0x5000, 109: 0x05e0, 110: 0x0053, 111: 1 },
      'wwn',
      undefined,
      '500005e000530001',
    ],
    ['a longer number of sectors that is zero', { 100: 0, 101: 0, 102: 0, 103: 0 }, 'lbaCount', 0, 268_435_455],
  ] as const)('is not followed in %s', (_, words, key, theirs, ours) => {
    const text = toWordsText(encodeIdentify({ ...plain, words }));
    expect(readHdparm(askHdparm(text))[key]).toBe(theirs);
    expect(decode(asciiBytes(text)).values[key]).toBe(ours);
  });

  it('is not followed in the byte it would put for a wrong checksum', () => {
    const { words } = identifyFixtures().find(({ name }) => name.startsWith('08'))!;
    expect(askHdparm(words)).toContain('expected 0xff');
    expect(decode(asciiBytes(words)).problems[0]?.message).toContain('call for `80h`');
  });
});

describe.skipIf(lacks(sgVpd))('sg_vpd', () => {
  const folder = mkdtempSync(join(tmpdir(), 'swaplore-vpd-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  function ask(page: Uint8Array): string {
    const file = join(folder, 'page');
    writeFileSync(file, page);
    const { stdout } = spawnSync(
      sgVpd,
      [`--inhex=${file}`, '--raw', ...(page[1] === 0x80 ? [] : ['--long']), `--page=0x${page[1]!.toString(16)}`],
      {
        encoding: 'utf8',
      },
    );
    expect(stdout).toContain('VPD page');
    return stdout;
  }

  it.each(vpdFixtures())('says today what is kept of it: $name', ({ hex, sgVpd: kept }) => {
    expect(ask(hexBytes(hex.replace(/\s/g, ''))).trim()).toBe(kept.trim());
  });

  it('reads the same serial numbers and answers out of generated pages', () => {
    for (const input of generated.slice(0, 20)) {
      const identify = encodeIdentify(input);
      const printed = ask(encodeVpd89(identify));
      const { values } = decode(encodeVpd89(identify));
      const field = (name: string): string | undefined =>
        new RegExp(`^ +${name}: (.*)$`, 'm').exec(printed)?.[1]?.trim();
      expect([values.model, values.serial, values.firmware]).toEqual(
        ['model', 'serial number', 'firmware revision'].map(field),
      );
      const serial = encodeVpd(0x80, asciiBytes(input.serial ?? ''));
      expect(ask(serial)).toContain(`Unit serial number: ${decode(serial).values.serial}`);
    }
  });

  it('reads the same names out of generated pages', () => {
    const digits = (length: number) =>
      fc
        .array(fc.constantFrom(...'0123456789abcdef'), { minLength: length, maxLength: length })
        .map((list) => list.join(''));
    const names = fc.sample(
      fc.oneof(
        fc.tuple(fc.constantFrom('2', '3', '5'), digits(15)).map((parts) => parts.join('')),
        digits(31).map((rest) => `6${rest}`),
      ),
      { numRuns: 40, seed: 20_260_314 },
    );
    for (const name of names) {
      const page = encodeVpd83([
        { type: 3, codeSet: 1, association: 1, content: hexBytes('500005e0005300ff') },
        { type: 3, codeSet: 1, content: hexBytes(name) },
      ]);
      const own = /Addressed logical unit:\n([\s\S]*?)(?=\n {2}\S|$)/.exec(ask(page))?.[1] ?? '';
      expect(decode(page).values.wwn).toBe(/^ +\[?0x((?:[0-9a-f]{16}){1,2})\]?$/m.exec(own)?.[1]);
    }
  });
});

it.skipIf(lacks(registry))('prefixes of names are those the registry has, whole and in its spelling', () => {
  const listed = [...readFileSync(registry, 'utf8').matchAll(/^MA-L,([0-9A-F]{6}),/gm)].map(
    ([, prefix = '']) => prefix,
  );
  expect(listed.length).toBeGreaterThan(30_000);
  const known = new Set(listed);
  // The registry has some prefixes more than once.
  expect(known.has('00005E')).toBe(true);
  for (const prefix of listed.filter((_, position) => position % 100 === 0)) {
    for (const name of [`5${prefix}000530001`, `6${prefix}0005300010123456789abcdef`, `2abc${prefix}123456`]) {
      const wwn = parseWwn(decode(encodeVpd83([{ type: 3, codeSet: 1, content: hexBytes(name) }])).values.wwn ?? '');
      expect('oui' in wwn && known.has(wwn.oui?.replaceAll('-', '') ?? '') && wwn.oui?.replaceAll('-', '')).toBe(
        prefix,
      );
    }
  }
});
