import { expect, it } from 'vitest';
import { swappedPairs } from '../../server/src/core/captures/bytes.ts';
import { decode } from '../../server/src/core/captures/decode.ts';
import { captureFixture } from '../harness/capture-fixtures.ts';
import { encodeSmartData } from '../harness/encode-smart-data.ts';
import { asciiBytes } from '../harness/encode-vpd.ts';

const recipe: { attributes: { id: number; raw48: number }[] } = JSON.parse(
  Buffer.from(captureFixture('captures/smart-data.json')).toString(),
);
const bytes = captureFixture('captures/smart-data.bin');

it('gives what went in, raw values beyond 32 bits among it', () => {
  const raw = (id: number) => recipe.attributes.find((attribute) => attribute.id === id)?.raw48;
  expect(decode(bytes)).toEqual({
    format: 'smart_data',
    values: {
      reallocated: raw(5),
      powerOnHours: raw(9),
      powerCycles: raw(12),
      pending: raw(197),
      offlineUncorrectable: raw(198),
    },
    problems: [],
    unnamed: [{ at: 'attribute 240', value: '000064fdbc9a7856341200' }],
  });
});

it('is known by its attributes whatever its checksum, which may be the signature of IDENTIFY DEVICE data', () => {
  for (let celsius = 0; celsius < 256; celsius += 1) {
    const answer = encodeSmartData([
      { id: 5, raw: 0 },
      { id: 9, raw: 21_480 },
      { id: 194, raw: celsius },
    ]);
    expect(decode(answer), `checksum ${answer[511]}`).toMatchObject({ format: 'smart_data', problems: [] });
    const swapped = decode(swappedPairs(answer));
    expect(swapped, `checksum ${answer[511]}, swapped`).toMatchObject({ values: { powerOnHours: 21_480 } });
  }
});

it('says what the checksum ought to be', () => {
  const damaged = Uint8Array.from(bytes);
  damaged[511] = 0x84;
  expect(decode(damaged).problems).toEqual([
    {
      severity: 'error',
      message: 'The checksum is `84h` where the bytes call for `83h`: some of them are damaged.',
    },
  ]);
});

it('is read as far as it goes, and from bytes written as text', () => {
  const { format, values, problems } = decode(bytes.subarray(0, 100));
  expect({ format, values }).toEqual({
    format: 'smart_data',
    values: { reallocated: 8, powerOnHours: 4321, powerCycles: 77, pending: 3, offlineUncorrectable: 2 },
  });
  expect(problems).toEqual([
    { severity: 'error', message: 'Only 100 of 512 bytes are there, so that the checksum is missing.' },
  ]);
  const text = Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join(' ');
  expect(decode(asciiBytes(text))).toEqual(decode(bytes));
});

it('is recognised with the bytes of every pair swapped', () => {
  const { values, problems } = decode(swappedPairs(bytes));
  expect(values).toEqual(decode(bytes).values);
  expect(problems.map(({ severity }) => severity)).toEqual(['warning']);
});

// Source of the widths: smartmontools, drivedb.h, default entry (`raw24(raw8)`, `raw16(raw16)`).
it('takes the count where more is packed into a raw value, and says so', () => {
  const { values, problems } = decode(
    encodeSmartData([
      { id: 5, raw: 0x0001_0000_0007 },
      { id: 9, raw: 0x2a00_0000_10e1 },
      { id: 198, raw: 0xffff_ffff_ffff },
    ]),
  );
  expect(values).toEqual({ reallocated: 7, powerOnHours: 4321, offlineUncorrectable: 2 ** 48 - 1 });
  expect(problems.map(({ message }) => message)).toEqual([
    `Attribute 5 holds more than a count (raw \`${0x0001_0000_0007}\`); its lowest 16 bits, \`7\`, were taken.`,
    `Attribute 9 holds more than a count (raw \`${0x2a00_0000_10e1}\`); its lowest 24 bits, \`4321\`, were taken.`,
  ]);
});

it('is not confused with the table of thresholds, which has the same form', () => {
  const thresholds = new Uint8Array(512);
  for (const [position, id] of [1, 5, 9, 197].entries()) thresholds.set([id, 36], 2 + 12 * position);
  thresholds[511] = 256 - (thresholds.reduce((sum, byte) => sum + byte, 0) % 256);
  expect(decode(thresholds)).toMatchObject({
    values: {},
    problems: [{ severity: 'error', message: 'These are the thresholds of the attributes, not their values.' }],
  });
});

it('keeps what the maker put behind the entries', () => {
  const own = encodeSmartData([{ id: 9, raw: 1 }]);
  own[400] = 1;
  own[401] = 0xff;
  expect(decode(own).unnamed).toEqual([{ at: 'bytes 386 to 510', value: `${'00'.repeat(14)}01ff${'00'.repeat(109)}` }]);
});
