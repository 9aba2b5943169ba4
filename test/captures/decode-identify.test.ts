import { describe, expect, it } from 'vitest';
import { decode } from '../../server/src/core/captures/decode.ts';
import type { CaptureProblem } from '../../server/src/core/captures/decoded.ts';
import { identifyFixtures, printedFieldsOf, readHdparm } from '../harness/capture-fixtures.ts';
import { encodeIdentify, toWordsText, withChecksum } from '../harness/encode-identify.ts';
import { asciiBytes } from '../harness/encode-vpd.ts';

const tern = {
  serial: 'WRN0A4F2K',
  model: 'WREN TERN 2',
  firmware: 'T2.07',
  wwn: '500005e000530001',
  lbaCount: 1_953_525_168,
  physicalSectorBytes: 4096,
  rpm: 5400,
  formFactor: 3,
  transport: 'sata',
} as const;

const formFactors: Readonly<Record<number, string>> = { 2: '3.5in', 3: '2.5in', 4: '1.8in', 7: 'M.2' };

describe.each(identifyFixtures())('$name', ({ name, words, recipe, hdparm }) => {
  const decoded = decode(asciiBytes(words));

  it('gives what went in', () => {
    expect(decoded.format).toBe('ata_identify');
    const { serial, model, firmware, lba, logical, physical, rpm, form, wwn } = recipe;
    const isOld = recipe.integrity === false;
    expect(decoded.values).toEqual({
      serial,
      model,
      firmware,
      lbaCount: lba,
      logicalSectorBytes: logical,
      physicalSectorBytes: physical,
      transport: 'sata',
      ...(wwn === null ? {} : { wwn }),
      ...(isOld ? {} : { rpm: rpm === 1 ? 0 : rpm, formFactor: formFactors[form] }),
    });
    expect(decoded.unnamed).toEqual([]);
  });

  it('agrees with hdparm', () => {
    const { isChecksumRight, formFactor, ...printed } = readHdparm(hdparm);
    // hdparm 9.65 says nothing of codes above 5.
    expect(printedFieldsOf(decoded)).toMatchObject(name.includes('code7') ? printed : { ...printed, formFactor });
    const isDamaged = decoded.problems.some(({ message }) => message.includes('checksum'));
    if (isChecksumRight !== undefined) expect(isDamaged).toBe(!isChecksumRight);
  });
});

function problemsOf(bytes: Uint8Array): readonly CaptureProblem[] {
  return decode(bytes).problems;
}

describe('what is wrong with an answer is said once', () => {
  // Source: the right byte follows from the sum; hdparm 9.65 prints another one.
  it('a wrong checksum, with the one the bytes call for', () => {
    const damaged = encodeIdentify(tern);
    damaged[300] = 7;
    const stored = damaged[511]!.toString(16).toUpperCase().padStart(2, '0');
    const right = withChecksum(damaged)[511]!.toString(16).toUpperCase().padStart(2, '0');
    expect(problemsOf(damaged)).toEqual([
      {
        severity: 'error',
        message: `The checksum is \`${stored}h\` where the bytes call for \`${right}h\`: some of them are damaged.`,
      },
    ]);
  });

  it.each([
    ['by word 0', { 0: 0x0044 }],
    ['by word 2, needing a command', { 2: 0x37c8 }],
    ['by word 2, not needing one', { 2: 0x8c73 }],
    ['by both', { 0: 0x0044, 2: 0x37c8 }],
  ])('an incomplete answer, %s', (_, words) => {
    expect(problemsOf(encodeIdentify({ ...tern, words }))).toEqual([
      {
        severity: 'error',
        message:
          'The drive says that its answer is incomplete, as before it was told to spin up; only words 0 and 2 can be relied on.',
      },
    ]);
  });

  it('an incomplete answer with nothing else in it', () => {
    const bytes = new Uint8Array(512);
    bytes.set([0x44, 0, 0, 0, 0xc8, 0x37]);
    const { format, values, problems } = decode(bytes);
    expect({ format, serial: values.serial, problems: problems.length }).toEqual({
      format: 'ata_identify',
      serial: undefined,
      problems: 1,
    });
  });

  it('one that was cut short, raw and as words', () => {
    const bytes = encodeIdentify(tern).subarray(0, 200);
    const message = 'Only 200 of 512 bytes are there, so that values and the checksum are missing.';
    expect(decode(bytes)).toEqual(decode(asciiBytes(toWordsText(bytes))));
    expect(decode(bytes)).toMatchObject({
      values: { serial: tern.serial, model: tern.model, firmware: tern.firmware },
      problems: [{ severity: 'error', message }],
    });
    // Whether there are more sectors than 28 bits can say stands in word 83, and their number in words 100 to 103.
    expect(decode(bytes).values.lbaCount).toBeUndefined();
  });

  it('texts whose characters are swapped, while all else is not', () => {
    const bytes = encodeIdentify(tern);
    for (let at = 20; at < 94; at += 2) {
      if (at === 40) at = 46;
      [bytes[at], bytes[at + 1]] = [bytes[at + 1]!, bytes[at]!];
    }
    expect(decode(bytes)).toEqual({
      ...decode(encodeIdentify(tern)),
      problems: [
        {
          severity: 'warning',
          message: 'The characters of the texts are swapped in pairs; they were read the other way round.',
        },
      ],
    });
  });

  it('texts that are swapped where only the model shows it', () => {
    const even = { ...tern, serial: 'WRN0A4F2', firmware: 'T207', model: 'WREN TERN DRIVE B1000-21' };
    const bytes = encodeIdentify({ ...even, model: `${even.model}X` });
    for (let at = 20; at < 94; at += 2) [bytes[at], bytes[at + 1]] = [bytes[at + 1]!, bytes[at]!];
    expect(decode(withChecksum(bytes)).values.model).toBe(`${even.model}X`);
    // Read the other way round, this would be another name.
    expect(decode(encodeIdentify({ ...even, model: 'WRN TERN 2' })).values.model).toBe('WRN TERN 2');
  });

  it('an answer of another kind of device', () => {
    expect(problemsOf(encodeIdentify({ ...tern, words: { 0: 0x85c0 } }))).toEqual([
      {
        severity: 'error',
        message: 'Word 0 is `85C0h`: that is no answer of a disk, but of another kind of device.',
      },
    ]);
  });

  it('a world-wide name that is announced and not there', () => {
    const { values, problems } = decode(encodeIdentify({ ...tern, wwn: '0000000000000000' }));
    expect(values.wwn).toBeUndefined();
    expect(problems).toEqual([
      {
        severity: 'warning',
        message: 'The drive says that it has a world-wide name, but words 108 to 111 hold none.',
      },
    ]);
  });

  it('a serial number that is none, kept as it came', () => {
    const { values, problems, unnamed, likelySerials } = decode(encodeIdentify({ ...tern, serial: 'WRN0\u0001F2K' }));
    expect(values.serial).toBeUndefined();
    expect(problems.map(({ severity }) => severity)).toEqual(['warning']);
    expect(unnamed).toEqual([{ at: 'words 10 to 19', value: '57524e300146324b202020202020202020202020' }]);
    expect(likelySerials).toEqual(['WRN0\u0001F2K']);
  });

  it('more words than an answer has', () => {
    const text = toWordsText(encodeIdentify(tern)).repeat(2);
    expect(problemsOf(asciiBytes(text))).toEqual([
      { severity: 'error', message: 'It holds 512 words, but an answer to IDENTIFY DEVICE has 256.' },
    ]);
  });
});

it('keeps what has no name, in runs of words', () => {
  const bytes = encodeIdentify({ ...tern, words: { 9: 1, 130: 0x5752, 131: 0x4e30, 133: 2, 250: 0xbeef } });
  expect(decode(bytes).unnamed).toEqual([
    { at: 'word 9', value: '0001' },
    { at: 'words 130 to 131', value: '57524e30' },
    { at: 'word 133', value: '0002' },
    { at: 'word 250', value: 'beef' },
  ]);
});

it.each([
  [
    'nothing reported',
    { 168: 0, 217: 0, 222: 0, 76: 0 },
    { formFactor: undefined, rpm: undefined, transport: undefined },
  ],
  ['the lowest rate there is', { 217: 0x0401 }, { rpm: 1025 }],
  ['rates that are reserved', { 217: 0x0400 }, { rpm: undefined }],
  ['FFFFh, which is reserved', { 217: 0xffff }, { rpm: undefined }],
  ['a drive on a parallel cable', { 222: 0x007f }, { transport: 'pata' }],
  ['serial by its speeds alone', { 222: 0, 76: 0x0002 }, { transport: 'sata' }],
  ['a code for the housing that nobody knows', { 168: 12 }, { formFactor: undefined }],
  ['28 bits where word 83 does not count', { 83: 0x0400 }, { lbaCount: 268_435_455 }],
  ['28 bits where the longer number is zero', { 100: 0, 101: 0, 102: 0, 103: 0 }, { lbaCount: 268_435_455 }],
  ['no number of sectors without LBA', { 49: 0x0d00 }, { lbaCount: undefined }],
  ['a number beyond 48 bits', { 103: 1 }, { lbaCount: undefined }],
  ['sectors of 512 bytes where word 106 does not count', { 106: 0x2003 }, { physicalSectorBytes: 512 }],
  ['a name by word 87 alone', { 84: 0x4063 }, { wwn: tern.wwn }],
  ['no name where neither word counts', { 84: 0x0163, 87: 0x0163 }, { wwn: undefined }],
])('takes for granted nothing the drive does not say: %s', (_, words, wanted) => {
  const { values } = decode(encodeIdentify({ ...tern, words }));
  expect(Object.fromEntries(Object.keys(wanted).map((key) => [key, values[key as keyof typeof values]]))).toEqual(
    wanted,
  );
});

it('reads words as Linux and hdparm print them, under a heading and in any case', () => {
  const text = toWordsText(encodeIdentify(tern));
  const plain = decode(asciiBytes(text));
  expect(decode(asciiBytes(`\n/dev/sda:\n${text}`))).toEqual(plain);
  expect(decode(asciiBytes(text.toUpperCase().replaceAll('\n', '\r\n')))).toEqual(plain);
  const utf16 = Uint8Array.from([0xff, 0xfe, ...[...text].flatMap((character) => [character.charCodeAt(0), 0])]);
  expect(decode(utf16)).toEqual(plain);
});
