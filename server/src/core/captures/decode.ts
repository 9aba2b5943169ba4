/**
 * What a drive reported, from bytes of any of the forms that can be read.
 * Laws (test/property/decode.property.test.ts):
 * - random and damaged bytes are answered, never with an exception, and with a problem wherever nothing is known
 * - the answer is plain data: the same for the same bytes
 */
import { limits } from '../syntax/limits.ts';
import { byteSize } from '../text/byte-size.ts';
import { decodeText } from '../text/decode.ts';
import { swappedPairs, wordsOf } from './bytes.ts';
import { undecoded } from './capture-draft.ts';
import { decodeIdentify, hasMarkOfIdentify, holdsTextsOfIdentify, identifyBytes } from './decode-identify.ts';
import { decodeLsblk, isLsblk } from './decode-lsblk.ts';
import { decodeSmartData, isSmartData, looksLikeSmartData } from './decode-smart-data.ts';
import { decodeSmartctl, isSmartctl } from './decode-smartctl.ts';
import { decodeVpd } from './decode-vpd.ts';
import type { Decoded } from './decoded.ts';
import { isJsonMap, parseJson } from './json-fields.ts';
import { readCapture } from './read-capture.ts';
import { readHexText } from './read-hex-text.ts';
import { findVpdPage } from './vpd-page.ts';

/** Finds out what the bytes are and decodes them. Never throws. */
export function decode(bytes: Uint8Array): Decoded {
  if (bytes.length === 0) return undecoded('It is empty.');
  if (bytes.length > limits.fileBytes) {
    return undecoded(`It is larger than ${byteSize(limits.fileBytes)}, which no answer of a drive is.`);
  }
  const text = textOf(bytes);
  if (text !== undefined) return decodeAnyText(text);
  return decodeRaw(bytes);
}

/** The bytes as text; undefined where they are none. Windows PowerShell writes what a program prints in UTF-16. */
function textOf(bytes: Uint8Array): string | undefined {
  if (bytes[0] === 0xff && bytes[1] === 0xfe && bytes.length % 2 === 0) {
    const units = wordsOf(bytes.subarray(2));
    return units.every(isInText) ? units.map((unit) => String.fromCharCode(unit)).join('') : undefined;
  }
  if (!bytes.every(isInText)) return undefined;
  const decoded = decodeText(bytes);
  return 'text' in decoded ? decoded.text : undefined;
}

/** Whether a character may stand in text: any but most control characters. `FFFFh` is none. */
function isInText(character: number): boolean {
  return character >= 0x20 ? character !== 0x7f && character !== 0xffff : character >= 0x09 && character <= 0x0d;
}

function decodeAnyText(text: string): Decoded {
  const trimmed = text.trim();
  if (trimmed === '') return undecoded('It holds nothing but spaces.');
  if (/^[[{]/.test(trimmed)) return decodeJson(trimmed);
  const hex = readHexText(trimmed);
  if (hex === undefined) return undecoded(unknown);
  // Words are nobody's but IDENTIFY DEVICE data's; a single byte may be of anything.
  if (hex.unit === 'bytes' || fillerOf(hex.bytes) !== undefined) return decodeRaw(hex.bytes);
  if (hex.bytes.length > identifyBytes) {
    return undecoded(
      `It holds ${hex.bytes.length / 2} words, but an answer to IDENTIFY DEVICE has ${identifyBytes / 2}.`,
      'ata_identify',
    );
  }
  return decodeIdentify(hex.bytes);
}

function decodeJson(text: string): Decoded {
  const json = parseJson(text);
  if (json === undefined) return undecoded('It begins like JSON, but is none: it may have been cut short.');
  if (isJsonMap(json) && isSmartctl(json)) return decodeSmartctl(json);
  if (isJsonMap(json) && isLsblk(json)) return decodeLsblk(json);
  if (isJsonMap(json) && typeof json['capture'] === 'number') return decodeCapture(text);
  return undecoded(unknown);
}

/** A capture file: the values of its sources together, and what was wrong with any of them. */
function decodeCapture(text: string): Decoded {
  const { values, problems, faults } = readCapture(new TextEncoder().encode(text));
  const own = problems.map(({ severity, message }) => ({ severity, message }));
  if (faults.length === 0) return { format: 'capture', values, problems: own, unnamed: [] };
  const message = 'It is a capture file whose form is damaged, so that values may be missing.';
  return { format: 'capture', values, problems: [{ severity: 'error', message }, ...own], unnamed: [] };
}

function decodeRaw(bytes: Uint8Array): Decoded {
  const filler = fillerOf(bytes);
  if (filler !== undefined) return undecoded(`All ${bytes.length} bytes are \`${filler}\`: nothing was reported.`);
  const decoded = decodeInOrder(bytes);
  if (decoded !== undefined) return decoded;
  const swapped = decodeInOrder(swappedPairs(bytes));
  if (swapped === undefined) return undecoded(unknown);
  const message = 'The two bytes of every pair are swapped; they were read the other way round.';
  return { ...swapped, problems: [{ severity: 'warning', message }, ...swapped.problems] };
}

/** Undefined where the bytes are nothing that can be read, in this order. */
function decodeInOrder(bytes: Uint8Array): Decoded | undefined {
  if (hasMarkOfIdentify(bytes)) return decodeIdentify(bytes);
  const page = findVpdPage(bytes);
  if (page) return decodeVpd(page);
  if (isSmartData(bytes)) return decodeSmartData(bytes);
  if (holdsTextsOfIdentify(bytes) && !isSmartData(swappedPairs(bytes))) return decodeIdentify(bytes);
  return looksLikeSmartData(bytes) ? decodeSmartData(bytes) : undefined;
}

/** The byte that all are, where it is one that stands for nothing. */
function fillerOf(bytes: Uint8Array): '00h' | 'FFh' | undefined {
  const [first] = bytes;
  if (first !== 0 && first !== 0xff) return undefined;
  if (!bytes.every((byte) => byte === first)) return undefined;
  return first === 0 ? '00h' : 'FFh';
}

const unknown =
  'It is nothing that can be read: no IDENTIFY DEVICE or SMART data, no VPD page 80h, 83h or 89h, and no JSON of `smartctl` or `lsblk`.';
