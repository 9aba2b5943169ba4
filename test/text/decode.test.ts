import { describe, expect, it } from 'vitest';
import { decodeText } from '../../server/src/core/text/decode.ts';

const bytesOf = (hex: string): Uint8Array =>
  Uint8Array.from(hex.match(/[0-9a-f]{2}/gi) ?? [], (pair) => Number(`0x${pair}`));

describe('UTF-8 is text', () => {
  it.each([
    ['nothing', '', ''],
    ['ASCII', '6b 69 6e 64', 'kind'],
    // Source: RFC 3629, 7 "Examples" (from memory; recomputed with Python 3).
    ['RFC 3629, not identical to', '41 e2 89 a2 ce 91 2e', 'A\u2262\u0391.'],
    ['RFC 3629, Korean', 'ed 95 9c ea b5 ad ec 96 b4', '한국어'],
    ['RFC 3629, Japanese', 'e6 97 a5 e6 9c ac e8 aa 9e', '日本語'],
    ['RFC 3629, byte order mark and a character beyond U+FFFF', 'ef bb bf f0 a3 8e b4', '\u{233B4}'],
    ['a byte order mark alone', 'ef bb bf', ''],
    ['a second byte order mark', 'ef bb bf ef bb bf 61', '\ufeffa'],
    ['a byte order mark further on', '61 ef bb bf', 'a\ufeff'],
    ['line ends as they are', '61 0d 0a 62 0d 63 0a', 'a\r\nb\rc\n'],
    ['the last code point', 'f4 8f bf bf', '\u{10FFFF}'],
    ['around the surrogates', 'ed 9f bf ee 80 80', '\ud7ff\ue000'],
    ['control characters other than NUL', '01 1b 7f', '\u0001\u001b\u007f'],
  ])('%s', (_, hex, text) => {
    expect(decodeText(bytesOf(hex))).toEqual({ text });
  });
});

describe('anything else is not', () => {
  it.each([
    ['UTF-16, little end first', 'ff fe 61 00'],
    ['UTF-16, big end first', 'fe ff 00 61'],
    ['its byte order mark alone', 'ff fe'],
    // Source: Unicode, 23.8 "Byte Order Mark" (from memory): this one begins like UTF-16, and the advice is the same.
    ['UTF-32, little end first', 'ff fe 00 00 61 00 00 00'],
  ])('%s', (_, hex) => {
    expect(decodeText(bytesOf(hex))).toEqual({ reason: 'it is UTF-16, not UTF-8' });
  });

  it.each([
    ['Latin-1', '67 72 fc 6e'],
    ['a lone continuation byte', '61 80'],
    ['a character cut short at the end', 'e2 89'],
    ['a character cut short by another', 'e2 89 41'],
    // Source: M. Kuhn, "UTF-8 decoder capability and stress test", 4.1 to 4.3 overlong forms, 5.1 and 5.2 surrogates.
    ['a slash in two bytes', 'c0 af'],
    ['a slash in three bytes', 'e0 80 af'],
    ['a slash in four bytes', 'f0 80 80 af'],
    ['NUL in two bytes', 'c0 80'],
    ['U+D800', 'ed a0 80'],
    ['U+DFFF', 'ed bf bf'],
    ['a pair of surrogates', 'ed a0 80 ed b0 80'],
    ['beyond U+10FFFF', 'f4 90 80 80'],
    ['a byte of five-byte forms', 'f8 88 80 80 80'],
    ['a byte that never occurs', 'fe'],
    ['half a byte order mark', 'ef bb'],
  ])('%s', (_, hex) => {
    expect(decodeText(bytesOf(hex))).toEqual({ reason: 'it is not UTF-8' });
  });

  // Source: YAML 1.2.2, 5.1 "Character Set": NUL is not printable and no YAML text holds it.
  it.each([
    ['NUL alone', '00', 0],
    ['NUL in a text', '6b 3a 20 00 00', 3],
    ['UTF-16 without a byte order mark', '61 00 62 00', 1],
    ['NUL after a byte order mark', 'ef bb bf 61 00', 1],
    ['NUL after a character of two UTF-16 units', 'f0 9f 98 80 00', 2],
  ])('%s', (_, hex, offset) => {
    expect(decodeText(bytesOf(hex))).toEqual({ reason: `it holds a NUL character at offset ${offset}` });
  });
});

it('reads one text after another, whatever came before', () => {
  expect(decodeText(bytesOf('e2 89'))).toEqual({ reason: 'it is not UTF-8' });
  expect(decodeText(bytesOf('a2 41'))).toEqual({ reason: 'it is not UTF-8' });
  expect(decodeText(bytesOf('41'))).toEqual({ text: 'A' });
  expect(decodeText(bytesOf('ef bb bf 41'))).toEqual({ text: 'A' });
});
