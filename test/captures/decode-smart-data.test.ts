import { describe, expect, it } from 'vitest';
import { swappedPairs } from '../../server/src/core/captures/bytes.ts';
import { CaptureDraft } from '../../server/src/core/captures/capture-draft.ts';
import { decode } from '../../server/src/core/captures/decode.ts';
import {
  decodeSmartData,
  isSmartData,
  looksLikeSmartData,
  setCounter,
} from '../../server/src/core/captures/decode-smart-data.ts';
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

/** A plain answer of some attributes whose values are all alike. */
function answerOf(...ids: readonly number[]): Uint8Array {
  return encodeSmartData(ids.map((id) => ({ id, raw: id })));
}

/** The answer with one byte changed, its sum wrong by as much. */
function changed(answer: Uint8Array, at: number, byte: number): Uint8Array {
  const other = Uint8Array.from(answer);
  other[at] = byte;
  return other;
}

/** The same with a sum that is right. */
function summed(answer: Uint8Array): Uint8Array {
  const other = changed(answer, 511, 0);
  return changed(other, 511, (256 - (other.reduce((sum, byte) => sum + byte, 0) % 256)) % 256);
}

// Source of the widths: smartmontools, drivedb.h, default entry.
it.each([
  [5, 0xffff, { reallocated: 0xffff }, undefined],
  [
    5,
    0x10000,
    { reallocated: 0 },
    'Attribute 5 holds more than a count (raw `65536`); its lowest 16 bits, `0`, were taken.',
  ],
  [9, 0xffffff, { powerOnHours: 0xffffff }, undefined],
  [
    9,
    0x1000001,
    { powerOnHours: 1 },
    'Attribute 9 holds more than a count (raw `16777217`); its lowest 24 bits, `1`, were taken.',
  ],
  [12, 2 ** 48 - 1, { powerCycles: 2 ** 48 - 1 }, undefined],
  [197, 2 ** 48 - 1, { pending: 2 ** 48 - 1 }, undefined],
  [198, 2 ** 48 - 1, { offlineUncorrectable: 2 ** 48 - 1 }, undefined],
])('takes of attribute %i, %i, the count', (id, raw, values, message) => {
  const draft = new CaptureDraft();
  expect(setCounter(draft, id, raw)).toBe(true);
  const problems = message === undefined ? [] : [{ severity: 'warning', message }];
  expect(draft.done('smart_data')).toStrictEqual({ format: 'smart_data', values, problems, unnamed: [] });
});

it('takes nothing of an attribute that has no name here', () => {
  const draft = new CaptureDraft();
  expect([0, 1, 240].map((id) => setCounter(draft, id, 7))).toEqual([false, false, false]);
  expect(draft.done(undefined)).toStrictEqual({ format: undefined, values: {}, problems: [], unnamed: [] });
});

describe('an answer', () => {
  it('keeps what nobody knows, and what stands behind a count', () => {
    // Source of those that are well known: public listings of SMART attributes.
    const answer = encodeSmartData(
      [1, 3, 4, 7, 10, 192, 193, 194, 196, 199, 2, 8, 200, 240].map((id) => ({ id, raw: 1 })),
    );
    const { unnamed } = decodeSmartData(summed(changed(changed(answer, 13, 9), 25, 0)));
    expect(unnamed).toEqual([
      { at: 'attribute 1, byte 11', value: '09' },
      ...[2, 8, 200, 240].map((id) => ({ at: `attribute ${id}`, value: '3200646401000000000000' })),
    ]);
  });

  it('holds thirty entries, those of no attribute left out', () => {
    const full = answerOf(5, ...Array.from({ length: 28 }, (_, at) => 100 + at), 197);
    expect(decodeSmartData(full).values).toEqual({ reallocated: 5, pending: 197 });
    const gap = answerOf(5, 0, 197);
    expect(decodeSmartData(gap)).toMatchObject({ values: { reallocated: 5, pending: 197 }, unnamed: [] });
    // What stands behind the thirtieth is none.
    const behind = summed(changed(answerOf(5), 362, 9));
    expect(decodeSmartData(behind).values).toEqual({ reallocated: 5 });
  });

  it.each([
    [13, {}],
    [14, { reallocated: 5 }],
    [25, { reallocated: 5 }],
    [26, { reallocated: 5, powerOnHours: 9 }],
  ])('of %i bytes holds the entries that are whole', (length, values) => {
    expect(decodeSmartData(answerOf(5, 9).subarray(0, length))).toStrictEqual({
      format: 'smart_data',
      values,
      problems: [
        { severity: 'error', message: `Only ${length} of 512 bytes are there, so that the checksum is missing.` },
      ],
      unnamed: [],
    });
  });

  it.each([
    [385, []],
    [386, ['bytes 386 to 510']],
    [510, ['bytes 386 to 510']],
  ])("keeps byte %i, where it is the maker's", (at, kept) => {
    expect(decodeSmartData(summed(changed(answerOf(5), at, 1))).unnamed.map((field) => field.at)).toEqual(kept);
  });

  it('says what its checksum is and should be, in two digits', () => {
    const answer = answerOf(5);
    const right = answer[511]!.toString(16).padStart(2, '0');
    const stored = changed(answer, 511, 7);
    expect(decodeSmartData(stored).problems).toEqual([
      {
        severity: 'error',
        message: `The checksum is \`07h\` where the bytes call for \`${right}h\`: some of them are damaged.`,
      },
    ]);
  });

  it('is no table of thresholds as long as anything else stands in it', () => {
    const thresholds = new Uint8Array(512);
    thresholds.set([5, 36], 2);
    thresholds.set([9, 0], 14);
    expect(decodeSmartData(summed(thresholds))).toStrictEqual({
      format: 'smart_data',
      values: {},
      problems: [{ severity: 'error', message: 'These are the thresholds of the attributes, not their values.' }],
      unnamed: [],
    });
    expect(decodeSmartData(summed(changed(thresholds, 25, 1))).problems).toEqual([]);
    expect(decodeSmartData(new Uint8Array(512)).problems).toEqual([]);
  });
});

describe('looks like SMART data', () => {
  const three = answerOf(5, 9, 12);
  const bare = new Uint8Array(512);

  it.each<readonly [string, Uint8Array, boolean, boolean]>([
    ['with three attributes', three, true, true],
    ['with one attribute and a right sum', answerOf(5), true, false],
    ['with two attributes and a right sum', answerOf(5, 9), true, false],
    ['with two attributes and a wrong sum', changed(answerOf(5, 9), 511, 1), false, false],
    ['with three attributes and a wrong sum', changed(three, 511, 1), true, false],
    ['with three attributes, cut short', three.subarray(0, 40), true, false],
    ['with two attributes, cut short', three.subarray(0, 37), false, false],
    ['with nothing but zeros', bare, false, false],
    ['with something behind it', Uint8Array.from([...three, 0]), false, false],
    ['with the same attribute twice', answerOf(5, 9, 12, 5), false, false],
    ['with a revision of 256', summed(changed(three, 1, 1)), true, true],
    ['with a revision of 512', summed(changed(three, 1, 2)), false, false],
    ['with flags in the upper byte', summed(changed(three, 4, 1)), true, false],
    ['with flags in the upper byte and a wrong sum', changed(three, 4, 1), false, false],
    ['with a value of 0', changed(three, 5, 0), false, false],
    ['with a value of FFh', changed(three, 5, 0xff), false, false],
    ['with a value of FEh', changed(three, 5, 0xfe), true, false],
    ['with a value of 0 in the last entry', changed(three, 29, 0), false, false],
  ])('%s', (_, answer, looks, is) => {
    expect([looksLikeSmartData(answer), isSmartData(answer)]).toEqual([looks, is]);
  });
});
