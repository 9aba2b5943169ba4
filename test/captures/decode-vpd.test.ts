import { describe, expect, it } from 'vitest';
import { decode } from '../../server/src/core/captures/decode.ts';
import { vpdFixtures } from '../harness/capture-fixtures.ts';
import { encodeIdentify } from '../harness/encode-identify.ts';
import { asciiBytes, encodeVpd, encodeVpd83, encodeVpd89, hexBytes } from '../harness/encode-vpd.ts';

const identify = encodeIdentify({ serial: 'WRN0A4F2K', model: 'WREN TERN 2', firmware: 'T2.07', lbaCount: 1000 });

describe.each(vpdFixtures())('$name', ({ name, hex, sgVpd }) => {
  const { values, problems, unnamed } = decode(asciiBytes(hex));

  it('agrees with sg_vpd', () => {
    const own = /Addressed logical unit:\n([\s\S]*?)(?=\n {2}\S|$)/.exec(sgVpd)?.[1] ?? '';
    // The identifiers themselves are printed without leading zeros: only the whole in brackets is whole.
    // Of page 89h it prints no world-wide name; that of the block within is compared with hdparm.
    if (!name.startsWith('pg89')) expect(values.wwn).toBe(/^ +\[?0x((?:[0-9a-f]{16}){1,2})\]?$/m.exec(own)?.[1]);
    const [, serial] =
      /(?:Unit serial number: |serial number: |\n {4,}vendor specific: (?=\S+ *\n))(.*)/.exec(sgVpd) ?? [];
    expect(values.serial).toBe(serial?.trim());
    expect(values.firmware).toBe(/firmware revision: (.*)/.exec(sgVpd)?.[1]?.trim());
    expect(problems).toEqual([]);
  });

  it('keeps what is no name of the drive', () => {
    for (const [, port] of sgVpd.matchAll(/Target port:[^[]*\[0x([0-9a-f]+)\]/g)) {
      expect(unnamed.map(({ value }) => value)).toContain(port);
    }
  });
});

const naa5 = { type: 3, codeSet: 1, content: hexBytes('500005e000530001') };
const naa6 = { type: 3, codeSet: 1, content: hexBytes('600005e0005300010123456789abcdef') };
const nameString = { type: 8, codeSet: 3, content: asciiBytes('naa.500005E000530009\0\0\0\0') };

describe('page 83h', () => {
  // Source of the order: Linux, drivers/scsi/scsi_lib.c, scsi_vpd_lun_id.
  it('prefers a name string, then NAA 6, then NAA 5', () => {
    expect(decode(encodeVpd83([naa5, naa6, nameString])).values.wwn).toBe('500005e000530009');
    expect(decode(encodeVpd83([naa5, naa6])).values.wwn).toBe('600005e0005300010123456789abcdef');
    expect(decode(encodeVpd83([naa5, naa6])).unnamed).toEqual([{ at: 'designator 1', value: '500005e000530001' }]);
  });

  it('takes no name of a port or of the device for the drive', () => {
    const { values, unnamed } = decode(
      encodeVpd83([
        { ...naa5, association: 1 },
        { ...naa6, association: 2 },
      ]),
    );
    expect(values).toEqual({});
    expect(unnamed.map(({ at }) => at)).toEqual(['designator 1 (target port)', 'designator 2 (target device)']);
  });

  it('says where a drive has two names of one kind', () => {
    const { problems } = decode(encodeVpd83([naa5, { ...naa5, content: hexBytes('500005e000530002') }]));
    expect(problems).toEqual([
      {
        severity: 'error',
        message: 'The drive gives itself two world-wide names of one kind, `500005e000530001` and `500005e000530002`.',
      },
    ]);
  });

  it('keeps what may be a serial number, and says so', () => {
    const t10 = { type: 1, codeSet: 2, content: asciiBytes('WREN    TERN 2          WRN0A4F2K') };
    const { values, unnamed, likelySerials } = decode(encodeVpd83([t10]));
    expect(values).toEqual({});
    expect(unnamed).toEqual([{ at: 'designator 1', value: 'WREN    TERN 2          WRN0A4F2K' }]);
    expect(likelySerials).toEqual(['TERN 2          WRN0A4F2K']);
  });

  it('says where a designator goes on behind the end', () => {
    const page = encodeVpd83([naa5]);
    page[7] = 40;
    expect(decode(page).problems).toEqual([
      { severity: 'error', message: 'Designator 1 reaches beyond the end of the page.' },
    ]);
  });
});

describe('pages', () => {
  it('that were cut short are read as far as they go', () => {
    expect(decode(encodeVpd(0x80, asciiBytes('WRN0A4F2K')).subarray(0, 9))).toEqual({
      format: 'vpd_80',
      values: { serial: 'WRN0A' },
      problems: [{ severity: 'error', message: 'Only 9 of 13 bytes are there: the page was cut short.' }],
      unnamed: [],
    });
    expect(decode(encodeVpd89(identify).subarray(0, 300))).toMatchObject({
      values: { serial: 'WRN0A4F2K' },
      problems: [{ message: 'Only 300 of 572 bytes are there: the page was cut short.' }],
    });
  });

  it('are followed by nothing that is thrown away', () => {
    const padded = new Uint8Array(252);
    padded.set(encodeVpd(0x80, asciiBytes('WRN0A4F2K')));
    expect(decode(padded)).toMatchObject({ values: { serial: 'WRN0A4F2K' }, problems: [], unnamed: [] });
    padded[20] = 0xbe;
    expect(decode(padded).unnamed.map(({ at }) => at)).toEqual(['behind the page']);
  });

  it('are recognised with the bytes of every pair swapped', () => {
    const swapped = encodeVpd89(identify);
    for (let at = 0; at < swapped.length; at += 2) [swapped[at], swapped[at + 1]] = [swapped[at + 1]!, swapped[at]!];
    const { problems, ...rest } = decode(swapped);
    const { problems: none, ...wanted } = decode(encodeVpd89(identify));
    expect(rest).toEqual(wanted);
    expect(none).toEqual([]);
    expect(problems).toEqual([
      {
        severity: 'warning',
        message: 'The two bytes of every pair are swapped; they were read the other way round.',
      },
    ]);
  });

  it('hold a serial number of nothing but spaces', () => {
    expect(decode(encodeVpd(0x80, asciiBytes('        ')))).toMatchObject({
      values: {},
      problems: [{ severity: 'warning', message: 'The page holds no serial number.' }],
    });
  });

  it('hold the answer to another command', () => {
    const page = encodeVpd89(identify);
    page[56] = 0xa1;
    expect(decode(page)).toMatchObject({
      values: {},
      problems: [
        {
          severity: 'error',
          message: 'The page holds the answer to another command than IDENTIFY DEVICE, so that no value was taken.',
        },
      ],
    });
  });

  it('say who translates, and hold no answer where the drive gave none', () => {
    const { unnamed, problems } = decode(encodeVpd89(new Uint8Array(512)));
    expect(unnamed).toEqual([{ at: 'translator', value: 'linux libata 3.00' }]);
    expect(problems.map(({ message }) => message)).toEqual([
      'The answer to IDENTIFY DEVICE in the page is all zeros: nothing was reported.',
    ]);
  });
});

/** Page 89h with this content. */
function page89(change: (content: Uint8Array) => void, answer = identify): Uint8Array {
  const page = encodeVpd89(answer);
  change(page.subarray(4));
  return page;
}

describe('page 80h', () => {
  it('holds a serial number without its padding', () => {
    expect(decode(encodeVpd(0x80, asciiBytes('  WRN0A4F2K ')))).toStrictEqual({
      format: 'vpd_80',
      values: { serial: 'WRN0A4F2K' },
      problems: [],
      unnamed: [],
    });
  });

  it('holds one that is no text, which is kept as it came', () => {
    expect(decode(encodeVpd(0x80, asciiBytes(' WRN\u0001F2K ')))).toStrictEqual({
      format: 'vpd_80',
      values: {},
      problems: [
        {
          severity: 'warning',
          message: 'The serial number holds characters that are no printable ASCII, so that it was not taken.',
        },
      ],
      unnamed: [{ at: 'serial number', value: '2057524e0146324b20' }],
      likelySerials: ['WRN\u0001F2K'],
    });
  });

  it('holds none, which is said where all of it is there', () => {
    expect(decode(encodeVpd(0x80, asciiBytes('')))).toMatchObject({
      problems: [{ severity: 'warning', message: 'The page holds no serial number.' }],
    });
    expect(decode(encodeVpd(0x80, asciiBytes('    WRN')).subarray(0, 6)).problems).toEqual([
      { severity: 'error', message: 'Only 6 of 11 bytes are there: the page was cut short.' },
    ]);
  });
});

describe('page 89h', () => {
  const translator = { at: 'translator', value: 'linux libata 3.00' };

  it('holds what the drive answers, and who translates', () => {
    const own = decode(identify);
    expect(decode(encodeVpd89(identify))).toStrictEqual({
      ...own,
      format: 'vpd_89',
      unnamed: [translator, ...own.unnamed],
    });
  });

  it('keeps what the answer has no name for behind the translator', () => {
    const answer = encodeIdentify({ serial: 'WRN0\u0001', words: { 130: 7 } });
    const { unnamed, likelySerials, problems } = decode(encodeVpd89(answer));
    expect(unnamed.map(({ at }) => at)).toEqual(['translator', 'words 10 to 19', 'word 130']);
    expect(likelySerials).toEqual(['WRN0\u0001']);
    expect(problems).toHaveLength(1);
  });

  it('names no translator where there is no text', () => {
    const { values } = decode(identify);
    for (const filler of [0, 0x20, 0xff]) {
      const decoded = decode(page89((content) => content.fill(filler, 4, 32)));
      expect(decoded).toStrictEqual({ format: 'vpd_89', values, problems: [], unnamed: [] });
    }
    // It ends where the page goes on with what the host says of itself.
    expect(decode(page89((content) => content.set(asciiBytes('x'), 31))).unnamed[0]?.value).toBe('linux libata 3.0x');
    expect(decode(page89((content) => content.set(asciiBytes('x'), 3))).unnamed[0]?.value).toBe('linux libata 3.00');
  });

  it('holds no answer of another command', () => {
    expect(decode(page89((content) => content.fill(0xed, 52, 53)))).toStrictEqual({
      format: 'vpd_89',
      values: {},
      problems: [
        {
          severity: 'error',
          message: 'The page holds the answer to another command than IDENTIFY DEVICE, so that no value was taken.',
        },
      ],
      unnamed: [translator],
    });
  });

  it('holds no answer where all of it is zeros', () => {
    expect(decode(page89(() => undefined, new Uint8Array(512)))).toStrictEqual({
      format: 'vpd_89',
      values: {},
      problems: [
        {
          severity: 'error',
          message: 'The answer to IDENTIFY DEVICE in the page is all zeros: nothing was reported.',
        },
      ],
      unnamed: [translator],
    });
    const almost = new Uint8Array(512);
    almost[500] = 1;
    expect(decode(page89(() => undefined, almost)).values).toEqual({
      logicalSectorBytes: 512,
      physicalSectorBytes: 512,
    });
  });

  it.each([
    ['with some of the answer', 300, ['Only 300 of 572 bytes are there: the page was cut short.'], 'WRN0A4F2K'],
    ['with one byte of the answer', 61, ['Only 61 of 572 bytes are there: the page was cut short.'], undefined],
    ['before the answer', 60, ['Only 60 of 572 bytes are there: the page was cut short.'], undefined],
    ['before the command', 40, ['Only 40 of 572 bytes are there: the page was cut short.'], undefined],
    ['at its last byte', 571, ['Only 571 of 572 bytes are there: the page was cut short.'], 'WRN0A4F2K'],
  ])('was cut short %s, which is said once', (_, length, said, serial) => {
    const { format, values, problems } = decode(encodeVpd89(identify).subarray(0, length));
    expect({ format, problems }).toStrictEqual({
      format: 'vpd_89',
      problems: said.map((message) => ({ severity: 'error', message })),
    });
    expect(values.serial).toBe(serial);
  });

  it.each([
    ['none', 56],
    ['some', 300],
  ])('is too short for an answer and holds %s of it', (_, length) => {
    const page = encodeVpd(0x89, encodeVpd89(identify).subarray(4, 4 + length));
    expect(decode(page).problems).toEqual([
      { severity: 'error', message: 'The page is too short to hold an answer to IDENTIFY DEVICE.' },
    ]);
  });

  it('tells what is wrong with a whole answer, whatever stands behind it', () => {
    const damaged = Uint8Array.from(identify);
    damaged[300] = 9;
    const page = Uint8Array.from([...encodeVpd89(damaged), 7]);
    const { problems, unnamed } = decode(page);
    expect(problems.map(({ message }) => message.slice(0, 15))).toEqual(['The checksum is']);
    expect(unnamed).toEqual([{ at: 'behind the page', value: '07' }, translator, { at: 'word 150', value: '0009' }]);
  });

  it('tells what is wrong with a whole answer in a page that was cut short behind it', () => {
    const damaged = Uint8Array.from(identify);
    damaged[300] = 9;
    const page = encodeVpd89(damaged);
    page[3] = 0x40;
    expect(decode(page).problems.map(({ message }) => message.slice(0, 15))).toEqual([
      'Only 572 of 580',
      'The checksum is',
    ]);
  });
});
