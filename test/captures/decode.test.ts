import { describe, expect, it } from 'vitest';
import { swappedPairs } from '../../server/src/core/captures/bytes.ts';
import { decode } from '../../server/src/core/captures/decode.ts';
import { holdsTextsOfIdentify } from '../../server/src/core/captures/decode-identify.ts';
import { limits } from '../../server/src/core/syntax/limits.ts';
import { encodeIdentify, toWordsText } from '../harness/encode-identify.ts';
import { encodeSmartData } from '../harness/encode-smart-data.ts';
import { asciiBytes, encodeVpd, encodeVpd83, hexBytes } from '../harness/encode-vpd.ts';

const unknown =
  'It is nothing that can be read: no IDENTIFY DEVICE or SMART data, no VPD page 80h, 83h or 89h, and no JSON of `smartctl` or `lsblk`.';

function refused(message: string, format?: string) {
  return { format, values: {}, problems: [{ severity: 'error', message }], unnamed: [] };
}

function utf16(text: string): Uint8Array {
  return Uint8Array.from([
    0xff,
    0xfe,
    ...Array.from(text, (one) => [one.charCodeAt(0) & 0xff, one.charCodeAt(0) >> 8]).flat(),
  ]);
}

const page = encodeVpd(0x80, asciiBytes('WRN0A4F2'));
const pageDigits = Array.from(page, (byte) => byte.toString(16).padStart(2, '0')).join(' ');
const ofPage = { format: 'vpd_80', values: { serial: 'WRN0A4F2' }, problems: [], unnamed: [] };
const swapped = {
  severity: 'warning',
  message: 'The two bytes of every pair are swapped; they were read the other way round.',
};

describe('bytes', () => {
  it('are read up to the limit of a file', () => {
    expect(decode(new Uint8Array(limits.fileBytes).fill(0x20))).toStrictEqual(refused('It holds nothing but spaces.'));
    expect(decode(new Uint8Array(limits.fileBytes + 1).fill(0x20))).toStrictEqual(
      refused('It is larger than 1 MB, which no answer of a drive is.'),
    );
  });

  it.each([
    ['nothing', [], 'It is empty.'],
    ['one zero', [0], 'All 1 bytes are `00h`: nothing was reported.'],
    ['one FFh', [0xff], 'All 1 bytes are `FFh`: nothing was reported.'],
    ['FFh alone', [0xff, 0xff, 0xff], 'All 3 bytes are `FFh`: nothing was reported.'],
    ['zeros and something', [0, 0, 1], unknown],
    ['FFh and something', [0xff, 1, 0xff], unknown],
    ['the same byte that is no filler', [1, 1, 1], unknown],
    ['spaces', [0x20, 0x0a, 0x09], 'It holds nothing but spaces.'],
  ])('that are %s', (_, bytes, message) => {
    expect(decode(Uint8Array.from(bytes))).toStrictEqual(refused(message));
  });

  it('are a page, also with the bytes of every pair swapped', () => {
    expect(decode(page)).toStrictEqual(ofPage);
    expect(decode(swappedPairs(page))).toStrictEqual({ ...ofPage, problems: [swapped] });
  });

  it('tell what is wrong with them behind that they are swapped', () => {
    const short = swappedPairs(page).subarray(0, 8);
    expect(decode(short).problems).toEqual([
      swapped,
      { severity: 'error', message: 'Only 8 of 12 bytes are there: the page was cut short.' },
    ]);
  });

  it('are no text where a character is none', () => {
    for (const stranger of [0x00, 0x08, 0x0e, 0x1f, 0x7f]) {
      const bytes = Uint8Array.from([...asciiBytes('00 00 00\n'), stranger]);
      expect(decode(bytes), `${stranger}`).toStrictEqual(refused(unknown));
    }
    for (const mark of [0x09, 0x0a, 0x0b, 0x0c, 0x0d, 0x20]) {
      const bytes = Uint8Array.from([mark, ...asciiBytes(`{"smartctl":{}}`), mark]);
      expect(decode(bytes).format, `${mark}`).toBe('smartctl_json');
    }
  });
});

describe('text', () => {
  const json = '{"smartctl": {}, "serial_number": "W"}';
  const ofJson = { format: 'smartctl_json', values: { serial: 'W' }, problems: [], unnamed: [] };

  it('is read in UTF-8, with and without a mark, and in UTF-16', () => {
    expect(decode(asciiBytes(json))).toStrictEqual(ofJson);
    expect(decode(Uint8Array.from([0xef, 0xbb, 0xbf, ...asciiBytes(json)]))).toStrictEqual(ofJson);
    expect(decode(utf16(json))).toStrictEqual(ofJson);
    expect(decode(utf16(json.replace('W', '\u0100W'))).values).toEqual({ serial: '\u0100W' });
  });

  it.each([
    ['an odd number of bytes', [...utf16(json), 0x20]],
    ['another mark', [0xfe, 0xff, ...utf16(json).subarray(2)]],
    ['half a mark', [0xff, 0x20, ...utf16(json).subarray(2)]],
    ['the other half of a mark', [0x20, 0xfe, ...utf16(json).subarray(2)]],
    ['a character that is none', [...utf16(json), 0xff, 0xff]],
    ['a control character', [...utf16(json), 0x01, 0x00]],
    ['DEL', [...utf16(json), 0x7f, 0x00]],
  ])('in UTF-16 is none with %s', (_, bytes) => {
    expect(decode(Uint8Array.from(bytes))).toStrictEqual(refused(unknown));
  });

  it.each([
    ['[1, 2]', unknown],
    ['{"blockdevices": 1}', unknown],
    ['{"capture": "1"}', unknown],
    ['[{"smartctl": {}}]', unknown],
    ['{"smartctl": {}', 'It begins like JSON, but is none: it may have been cut short.'],
    ['[', 'It begins like JSON, but is none: it may have been cut short.'],
    [' {', 'It begins like JSON, but is none: it may have been cut short.'],
    ['"smartctl"', unknown],
    ['x {"smartctl": {}}', unknown],
    ['', 'It is empty.'],
  ])('%j is nothing that can be read', (text, message) => {
    expect(decode(asciiBytes(text))).toStrictEqual(refused(message));
  });

  it('holds bytes of whatever there is', () => {
    expect(decode(asciiBytes(`\n ${pageDigits}\n`))).toStrictEqual(ofPage);
    expect(decode(asciiBytes('00 00 00'))).toStrictEqual(refused('All 3 bytes are `00h`: nothing was reported.'));
  });

  it('holds words of IDENTIFY DEVICE data and of nothing else', () => {
    const { format, problems } = decode(asciiBytes(toWordsText(page)));
    expect([format, problems[0]?.message]).toEqual([
      'ata_identify',
      'Only 12 of 512 bytes are there, so that values and the checksum are missing.',
    ]);
    expect(decode(asciiBytes('ffff 0000'))).toMatchObject({ format: 'ata_identify' });
    expect(decode(asciiBytes('ffff ffff'))).toStrictEqual(refused('All 4 bytes are `FFh`: nothing was reported.'));
    const whole = toWordsText(encodeIdentify({ serial: 'WRN0A4F2' }));
    expect(decode(asciiBytes(whole))).toMatchObject({ values: { serial: 'WRN0A4F2' }, problems: [] });
    expect(decode(asciiBytes(`${whole}0001`))).toStrictEqual(
      refused('It holds 257 words, but an answer to IDENTIFY DEVICE has 256.', 'ata_identify'),
    );
  });

  it('is the output of smartctl before that of lsblk, and that before a capture', () => {
    expect(decode(asciiBytes('{"capture": 1, "blockdevices": [], "smartctl": {}}')).format).toBe('smartctl_json');
    expect(decode(asciiBytes('{"capture": 1, "blockdevices": []}')).format).toBe('lsblk_json');
  });
});

describe('a capture file', () => {
  const source = (more: object) => ({ name: 'a', values: { firmware: '1' }, ...more });

  it('gives the values of its sources together, and what was wrong with any', () => {
    const problems = [{ severity: 'warning', message: 'Something.' }];
    const text = JSON.stringify({ capture: 1, values: { rpm: 5400 }, sources: [source({ problems })] });
    expect(decode(asciiBytes(text))).toEqual({ format: 'capture', values: { rpm: 5400 }, problems, unnamed: [] });
  });

  it('says first that its form is damaged', () => {
    const problems = [{ severity: 'warning', message: 'Something.' }];
    const text = JSON.stringify({
      capture: 1,
      values: { rpm: 'many', firmware: '1' },
      sources: [source({ problems })],
    });
    expect(decode(asciiBytes(text))).toEqual({
      format: 'capture',
      values: { firmware: '1' },
      problems: [
        {
          severity: 'error',
          message: 'It is a capture file whose form is damaged, so that values may be missing.',
        },
        ...problems,
      ],
      unnamed: [],
    });
  });
});

describe('what several forms could be', () => {
  it('is IDENTIFY DEVICE data by its mark before a page', () => {
    const answer = encodeIdentify({ serial: 'WRN0A4F2', words: { 0: 0x8000 } });
    // Byte 1 is 80h, as in a page of a serial number.
    expect(decode(answer).format).toBe('ata_identify');
    expect(decode(encodeVpd83([{ type: 3, codeSet: 1, content: hexBytes('500005e000530001') }])).format).toBe('vpd_83');
  });

  it('is IDENTIFY DEVICE data by its texts', () => {
    const answer = encodeIdentify({
      serial: 'WRN0A4F2',
      model: 'TERN',
      words: { 0: 0x0040, 2: 0 },
      hasChecksum: false,
    });
    expect(decode(answer)).toMatchObject({ format: 'ata_identify', values: { model: 'TERN' } });
    expect(decode(answer.subarray(0, 100))).toMatchObject({ format: 'ata_identify', values: { serial: 'WRN0A4F2' } });
  });

  it('is SMART data where it reads as texts as well', () => {
    const answer = encodeSmartData([5, 9, 0x41, 0x42, 0x43, 0x44, 0x45, 0x46].map((id) => ({ id, raw: 0 })));
    expect(holdsTextsOfIdentify(answer)).toBe(true);
    expect(decode(answer)).toMatchObject({ format: 'smart_data', problems: [] });
    expect(decode(swappedPairs(answer))).toMatchObject({ format: 'smart_data', problems: [swapped] });
  });

  it('is SMART data by its attributes, whole or cut short, in either order of bytes', () => {
    const answer = encodeSmartData([5, 9, 12, 197].map((id) => ({ id, raw: id })));
    const values = { reallocated: 5, powerOnHours: 9, powerCycles: 12, pending: 197 };
    expect(decode(answer)).toMatchObject({ format: 'smart_data', values, problems: [] });
    expect(decode(answer.subarray(0, 50))).toMatchObject({
      format: 'smart_data',
      values,
      problems: [{ severity: 'error' }],
    });
    expect(decode(swappedPairs(answer))).toMatchObject({ format: 'smart_data', values, problems: [swapped] });
  });
});
