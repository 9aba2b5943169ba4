import { describe, expect, it } from 'vitest';
import { decode } from '../../server/src/core/captures/decode.ts';
import {
  decodeIdentify,
  hasMarkOfIdentify,
  holdsTextsOfIdentify,
} from '../../server/src/core/captures/decode-identify.ts';
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

/** An answer whose words are all zero but for these, without a checksum. */
function answer(words: Readonly<Record<number, number>>, count = 256): Uint8Array {
  return Uint8Array.from({ length: 2 * count }, (_, at) => ((words[at >> 1] ?? 0) >> (at % 2 === 0 ? 0 : 8)) & 0xff);
}

const sizes = { logicalSectorBytes: 512, physicalSectorBytes: 512 };
const incomplete =
  'The drive says that its answer is incomplete, as before it was told to spin up; only words 0 and 2 can be relied on.';
const isNone = 'holds characters that no ATA text may hold, so that it was not taken.';
const noName = 'The drive says that it has a world-wide name, but words 108 to 111 hold none.';

// Source of what words mean: ACS, as hdparm 9.65 (identify.c) and Linux (include/linux/ata.h) read them.
it.each<[Readonly<Record<number, number>>, object, (readonly string[])?, (readonly string[])?]>([
  [{}, {}],
  [{ 0: 0x8000 }, {}, ['error: Word 0 is `8000h`: that is no answer of a disk, but of another kind of device.']],
  [{ 0: 0x85c0 }, {}, ['error: Word 0 is `85C0h`: that is no answer of a disk, but of another kind of device.']],
  [{ 0: 0x848a }, {}],
  [{ 0: 0x0004 }, {}, [`error: ${incomplete}`]],
  [{ 0: 0x0040 }, {}],
  [{ 2: 0x37c8 }, {}, [`error: ${incomplete}`]],
  [{ 2: 0x8c73 }, {}, [`error: ${incomplete}`]],
  [{ 2: 0x738c }, {}],
  [{ 2: 0xc837 }, {}],
  [{ 255: 0x1234 }, {}, [], ['word 255: 1234']],
  [{ 255: 0xa500 }, {}, [], ['word 255: a500']],
  [{ 255: 0x5ba5 }, {}],
  [{ 255: 0x05a5 }, {}, ['error: The checksum is `05h` where the bytes call for `5Bh`: some of them are damaged.']],
  [
    { 255: 0xaba5, 1: 0x51 },
    {},
    ['error: The checksum is `ABh` where the bytes call for `0Ah`: some of them are damaged.'],
  ],
  [{ 10: 0x5752, 11: 0x4e20 }, { serial: 'WRN' }],
  [
    { 10: 0x5752, 19: 0x0100 },
    {},
    [`warning: The serial number ${isNone}`],
    [`words 10 to 19: 5752${'0'.repeat(32)}0100`],
  ],
  [{ 23: 0x3120, 26: 0x2020 }, { firmware: '1' }],
  [{ 26: 0x0141 }, {}, [`warning: The firmware ${isNone}`], ['words 23 to 26: 0000000000000141']],
  [{ 27: 0x4120 }, { model: 'A' }],
  [{ 46: 0x7f41 }, {}, [`warning: The model ${isNone}`], [`words 27 to 46: ${'0'.repeat(76)}7f41`]],
  [{ 49: 0x0200, 60: 5, 61: 1 }, { lbaCount: 65_541 }],
  [{ 49: 0x0200 }, { lbaCount: 0 }],
  [{ 60: 5, 61: 1 }, {}],
  [{ 49: 0x0200, 60: 5, 83: 0x4400, 100: 1, 101: 2, 102: 3 }, { lbaCount: 1 + 2 * 65_536 + 3 * 65_536 ** 2 }],
  [{ 49: 0x0200, 60: 5, 83: 0x4400 }, { lbaCount: 5 }],
  [{ 49: 0x0200, 60: 5, 83: 0x4000, 100: 1 }, { lbaCount: 5 }],
  [{ 49: 0x0200, 60: 5, 83: 0x0400, 100: 1 }, { lbaCount: 5 }],
  [{ 49: 0x0200, 60: 5, 83: 0xc400, 100: 1 }, { lbaCount: 5 }],
  [
    { 49: 0x0200, 60: 5, 83: 0x4400, 100: 1, 103: 1 },
    {},
    ['warning: The number of sectors is larger than 48 bits can address, so that it was not taken.'],
    ['words 100 to 103: 0001000000000001'],
  ],
  [
    { 106: 0x5000, 117: 0x0800 },
    { logicalSectorBytes: 4096, physicalSectorBytes: 4096 },
  ],
  [
    { 106: 0x5000, 118: 1 },
    { logicalSectorBytes: 131_072, physicalSectorBytes: 131_072 },
  ],
  [{ 106: 0x6003, 117: 0x0800 }, { physicalSectorBytes: 4096 }],
  [
    { 106: 0x7001, 117: 0x0400 },
    { logicalSectorBytes: 2048, physicalSectorBytes: 4096 },
  ],
  [{ 106: 0x4003, 117: 0x0800 }, {}],
  [{ 106: 0x3003, 117: 0x0800 }, {}],
  [{ 84: 0x4100, 108: 0x5000, 109: 0x05e0, 110: 0x0053, 111: 1 }, { wwn: '500005e000530001' }],
  [{ 87: 0x4100, 108: 0x5000, 109: 0x05e0, 110: 0x0053, 111: 1 }, { wwn: '500005e000530001' }],
  [{ 84: 0x4000, 87: 0x0100, 108: 0x5000, 109: 0x05e0, 110: 0x0053, 111: 1 }, {}],
  [{ 84: 0x4100 }, {}, [`warning: ${noName}`]],
  [{ 84: 0x4100, 108: 0x1000 }, {}, [`warning: ${noName}`], ['words 108 to 111: 1000000000000000']],
  [{ 168: 1 }, { formFactor: '5.25in' }],
  [{ 168: 2 }, { formFactor: '3.5in' }],
  [{ 168: 3 }, { formFactor: '2.5in' }],
  [{ 168: 4 }, { formFactor: '1.8in' }],
  [{ 168: 5 }, { formFactor: 'under 1.8in' }],
  [{ 168: 6 }, { formFactor: 'mSATA' }],
  [{ 168: 7 }, { formFactor: 'M.2' }],
  [{ 168: 8 }, { formFactor: 'MicroSSD' }],
  [{ 168: 9 }, { formFactor: 'CFast' }],
  [{ 168: 10 }, {}, [], ['word 168: 000a']],
  [{ 217: 1 }, { rpm: 0 }],
  [{ 217: 2 }, {}, [], ['word 217: 0002']],
  [{ 217: 0x0400 }, {}, [], ['word 217: 0400']],
  [{ 217: 0x0401 }, { rpm: 1025 }],
  [{ 217: 0xfffe }, { rpm: 65_534 }],
  [{ 217: 0xffff }, {}, [], ['word 217: ffff']],
  [{ 222: 0x0001 }, { transport: 'pata' }],
  [{ 222: 0x0fff, 76: 2 }, { transport: 'pata' }],
  [{ 222: 0x1000 }, { transport: 'sata' }],
  [{ 222: 0x1fff }, { transport: 'sata' }],
  [{ 222: 0x2000, 76: 2 }, {}, [], ['word 222: 2000']],
  [{ 222: 0xffff }, {}],
  [{ 222: 0xffff, 76: 2 }, { transport: 'sata' }],
  [{ 76: 0xffff }, {}],
  [{ 76: 1 }, { transport: 'sata' }],
])('reads of words %j what they say', (words, values, said = [], unnamed = []) => {
  const decoded = decodeIdentify(answer(words));
  expect({ format: decoded.format, values: decoded.values }).toStrictEqual({
    format: 'ata_identify',
    values: { ...sizes, ...values },
  });
  expect(decoded.problems.map(({ severity, message }) => `${severity}: ${message}`)).toEqual(said);
  expect(decoded.unnamed.map(({ at, value }) => `${at}: ${value}`)).toEqual(unnamed);
  expect(decoded.likelySerials !== undefined).toBe(said.some((message) => message.includes('The serial number')));
});

it.each([
  [19, []],
  [20, ['serial']],
  [26, ['serial']],
  [27, ['serial', 'firmware']],
  [46, ['serial', 'firmware']],
  [47, ['serial', 'firmware', 'model']],
  [83, ['serial', 'firmware', 'model']],
  [84, ['serial', 'firmware', 'model', 'short']],
  [111, ['serial', 'firmware', 'model', 'short']],
  [112, ['serial', 'firmware', 'model', 'short', 'wwn']],
  [118, ['serial', 'firmware', 'model', 'short', 'wwn']],
  [119, ['serial', 'firmware', 'model', 'short', 'wwn', 'sizes']],
])('reads of the first %i words what is whole among them', (count, keys) => {
  const name = { 84: 0x4100, 108: 0x5000, 109: 0x05e0, 110: 0x0053, 111: 1 };
  const words = { 10: 0x4120, 23: 0x4220, 27: 0x4320, 49: 0x0200, 60: 5, ...name };
  const all = {
    serial: { serial: 'A' },
    firmware: { firmware: 'B' },
    model: { model: 'C' },
    short: { lbaCount: 5 },
    wwn: { wwn: '500005e000530001' },
    sizes,
  };
  const { values, problems } = decodeIdentify(answer(words, count));
  expect(values).toStrictEqual(Object.assign({}, ...keys.map((key) => all[key as keyof typeof all])));
  expect(problems.map(({ message }) => message)).toEqual([
    `Only ${2 * count} of 512 bytes are there, so that values and the checksum are missing.`,
  ]);
});

it.each([
  [100, undefined],
  [102, undefined],
  [103, 1 + 3 * 65_536 ** 2],
  [104, 1 + 3 * 65_536 ** 2],
])('reads the longer number of sectors of the first %i words', (count, lbaCount) => {
  const words = { 49: 0x0200, 60: 5, 83: 0x4400, 100: 1, 102: 3 };
  expect(decodeIdentify(answer(words, count)).values.lbaCount).toBe(lbaCount);
});

it('reads no more than an answer has', () => {
  const bytes = answer({ 10: 0x4120, 255: 0xfaa5, 256: 0x1234 }, 300);
  expect(decodeIdentify(bytes)).toEqual(decodeIdentify(bytes.subarray(0, 512)));
});

it('says that the words are swapped', () => {
  const bytes = encodeIdentify(tern);
  const turned = Uint8Array.from(bytes, (_, at) => bytes[at ^ 1]!);
  const plain = decodeIdentify(bytes);
  expect(decodeIdentify(turned)).toStrictEqual({
    ...plain,
    problems: [
      {
        severity: 'warning',
        message: 'The two bytes of every word are swapped; they were read the other way round.',
      },
    ],
  });
});

describe('bytes that are no text', () => {
  const marked = { 0: 0x40, 4: 0x37, 5: 0xc8 };
  const bytesWith = (set: Readonly<Record<number, number>>, length = 512): Uint8Array =>
    Uint8Array.from({ length }, (_, at) => set[at] ?? 0);

  it.each<readonly [string, Readonly<Record<number, number>>, boolean]>([
    ['by word 2 of a drive that answers in part', marked, true],
    ['by the same the other way round', { 0: 0x40, 4: 0xc8, 5: 0x37 }, true],
    ['by word 2 of another one', { 0: 0x40, 4: 0x8c, 5: 0x73 }, true],
    ['by that the other way round', { 0: 0x40, 4: 0x73, 5: 0x8c }, true],
    ['by word 0 the other way round', { 1: 0x80, 4: 0x37, 5: 0xc8 }, true],
    ['not by another word 2', { 0: 0x40, 4: 0x37, 5: 0xc9 }, false],
    ['not without word 2', { 0: 0x40 }, false],
    ['not without word 0', { 4: 0x37, 5: 0xc8 }, false],
    ['not by other bits of word 0', { ...marked, 0: 0x3f, 1: 0x3f }, false],
    ['not with texts that are none', { ...marked, 20: 0xff }, false],
    ['by the signature, whatever the texts', { ...marked, 20: 0xff, 510: 0xa5 }, true],
    ['by the signature the other way round', { ...marked, 20: 0xff, 511: 0xa5 }, true],
    ['not by the signature somewhere else', { ...marked, 20: 0xff, 509: 0xa5 }, false],
    ['not by the signature alone', { 510: 0xa5 }, false],
  ])('have its mark %s', (_, set, isMarked) => {
    expect(hasMarkOfIdentify(bytesWith(set))).toBe(isMarked);
  });

  it('have no mark where they are few', () => {
    expect(hasMarkOfIdentify(new Uint8Array())).toBe(false);
    expect(hasMarkOfIdentify(bytesWith(marked, 5))).toBe(false);
    expect(hasMarkOfIdentify(bytesWith(marked, 6))).toBe(true);
  });

  const named = { 54: 0x41, 93: 0x42 };

  it.each<readonly [string, Readonly<Record<number, number>>, number, boolean]>([
    ['two characters of a model', named, 94, true],
    ['more behind it', named, 512, true],
    ['less than a model', { ...named, 60: 0x41 }, 93, false],
    ['one character of a model', { 54: 0x41 }, 94, false],
    ['one character and spaces', { 54: 0x41, 55: 0x20, 56: 0x20 }, 94, false],
    ['two characters beside the model', { 20: 0x41, 21: 0x42, 53: 0x43 }, 94, false],
    ['two characters behind the model', { 94: 0x41, 95: 0x42 }, 100, false],
    ['the last character there is', { ...named, 60: 0x7e }, 94, true],
    ['what is no character in the model', { ...named, 60: 0x7f }, 94, false],
    ['a control character in the serial number', { ...named, 20: 0x1f }, 94, false],
    ['a space in the serial number', { ...named, 20: 0x20 }, 94, true],
    ['what is no character at the end of the serial number', { ...named, 39: 0x80 }, 94, false],
    ['what is no character in the firmware', { ...named, 46: 0xff }, 94, false],
    ['what is no character at the end of the firmware', { ...named, 53: 0xff }, 94, false],
    ['anything beside the texts', { ...named, 19: 0xff, 40: 0xff, 45: 1, 94: 0x80 }, 100, true],
  ])('look like it by %s: %s', (_, set, length, looks) => {
    expect(holdsTextsOfIdentify(bytesWith(set, length))).toBe(looks);
  });
});
