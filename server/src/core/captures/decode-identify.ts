/**
 * IDENTIFY DEVICE data: what an ATA drive says of itself in 256 words.
 * Laws (test/property/decode-identify.property.test.ts):
 * - what was encoded is decoded, in raw bytes, as words in text, and within VPD page 89h
 * - swapping the bytes of every word changes no value and is said
 * - every single flipped bit is noticed by the checksum, or stands in its signature
 */
import { parseWwn } from '../terms/wwn.ts';
import { asciiText, byteSum, charactersOf, lowestFirst, wordsOf } from './bytes.ts';
import { CaptureDraft } from './capture-draft.ts';
import type { Decoded } from './decoded.ts';
import { areTextsSwapped, areWordsSwapped, identifyTexts, swapped } from './identify-order.ts';
import { unnamedWords, wordField } from './unnamed-words.ts';

/** Bytes of a whole answer. */
export const identifyBytes = 512;

/** Word 2 of a drive that needs a command to spin up or answers in part. Source: hdparm 9.65, identify.c. */
const incompleteWords: readonly number[] = [0x37c8, 0x8c73];
const wholeWords: readonly number[] = [0x738c, 0xc837];

/** Names of the codes in word 168. Source: hdparm 9.65 for 1 to 5; ACS-4 for 6 to 9, from memory. */
const formFactors = ['5.25in', '3.5in', '2.5in', '1.8in', 'under 1.8in', 'mSATA', 'M.2', 'MicroSSD', 'CFast'];

/** Decodes IDENTIFY DEVICE data; where less than 512 bytes are there, what they hold. Never throws. */
export function decodeIdentify(bytes: Uint8Array): Decoded {
  const draft = new CaptureDraft();
  if (bytes.length < identifyBytes) {
    draft.fail(
      `Only ${bytes.length} of ${identifyBytes} bytes are there, so that values and the checksum are missing.`,
    );
  }
  const whole = bytes.subarray(0, identifyBytes);
  const asSent = wordsOf(whole);
  const isSwapped = areWordsSwapped(asSent, whole);
  if (isSwapped) draft.warn('The two bytes of every word are swapped; they were read the other way round.');
  const words = isSwapped ? asSent.map(swapped) : asSent;
  readState(words, whole, draft);
  readTexts(words, draft);
  readSectors(words, draft);
  readWwn(words, draft);
  readHousing(words, draft);
  for (const field of unnamedWords(words)) draft.keep(field);
  return draft.done('ata_identify');
}

/** Whether bytes that are no text have a mark of IDENTIFY DEVICE data that hardly anything else has, in either order of bytes. */
export function hasMarkOfIdentify(bytes: Uint8Array): boolean {
  const second = (bytes[4] ?? 0) * 256 + (bytes[5] ?? 0);
  // Each of the four is another one with its bytes swapped.
  if (![...incompleteWords, ...wholeWords].includes(second)) return false;
  const isDisk = (((bytes[0] ?? 0) | (bytes[1] ?? 0)) & 0xc0) !== 0;
  return isDisk && (bytes[510] === 0xa5 || bytes[511] === 0xa5 || areTexts(bytes));
}

/** Whether bytes that are no text look like IDENTIFY DEVICE data by the texts they hold, in either order of bytes. */
export function holdsTextsOfIdentify(bytes: Uint8Array): boolean {
  const { at, words } = identifyTexts.model;
  const end = 2 * (at + words);
  if (bytes.length < end || !areTexts(bytes)) return false;
  return bytes.subarray(2 * at, end).filter((byte) => byte > 0x20).length > 1;
}

function areTexts(bytes: Uint8Array): boolean {
  return Object.values(identifyTexts).every(({ at, words }) =>
    bytes.subarray(2 * at, 2 * (at + words)).every((byte) => byte === 0 || (byte >= 0x20 && byte < 0x7f)),
  );
}

function readState(words: readonly number[], bytes: Uint8Array, draft: CaptureDraft): void {
  const [general = 0, , specific = 0] = words;
  // 848Ah is how memory cards begin that answer like a disk.
  if ((general & 0x8000) !== 0 && general !== 0x848a) {
    draft.fail(`Word 0 is \`${hexWord(general)}\`: that is no answer of a disk, but of another kind of device.`);
  }
  if ((general & 0x0004) !== 0 || incompleteWords.includes(specific)) {
    draft.fail(
      'The drive says that its answer is incomplete, as before it was told to spin up; only words 0 and 2 can be relied on.',
    );
  }
  const last = words[255];
  if (last === undefined || last === 0) return;
  if ((last & 0xff) !== 0xa5) draft.keep(wordField(words, 255, 255));
  else if (byteSum(bytes) !== 0) {
    const stored = last >> 8;
    const right = (stored + 256 - byteSum(bytes)) % 256;
    draft.fail(
      `The checksum is \`${hexByte(stored)}\` where the bytes call for \`${hexByte(right)}\`: some of them are damaged.`,
    );
  }
}

function readTexts(words: readonly number[], draft: CaptureDraft): void {
  const areSwapped = areTextsSwapped(words);
  if (areSwapped) {
    draft.warn('The characters of the texts are swapped in pairs; they were read the other way round.');
  }
  for (const key of ['serial', 'firmware', 'model'] as const) {
    const { at, words: count } = identifyTexts[key];
    if (at + count > words.length) continue;
    const pairs = words.slice(at, at + count).map((word) => (areSwapped ? swapped(word) : word));
    const characters = pairs.flatMap((word) => [word >> 8, word & 0xff]);
    const text = asciiText(characters);
    if (text !== undefined) draft.set(key, text === '' ? undefined : text);
    else {
      draft.warn(`${labels[key]} holds characters that no ATA text may hold, so that it was not taken.`);
      const field = wordField(words, at, at + count - 1);
      if (key === 'serial') draft.keepLikelySerial(field, charactersOf(characters));
      else draft.keep(field);
    }
  }
}

const labels = { serial: 'The serial number', firmware: 'The firmware', model: 'The model' } as const;

function readSectors(words: readonly number[], draft: CaptureDraft): void {
  draft.set('lbaCount', lbaCountOf(words, draft));
  if (words.length <= 118) return;
  const sizes = validated(words, 106);
  const logical = (sizes & 0x1000) === 0 ? 512 : 2 * lowestFirst(words.slice(117, 119), 65_536);
  draft.values.logicalSectorBytes = logical;
  draft.values.physicalSectorBytes = (sizes & 0x2000) === 0 ? logical : logical * 2 ** (sizes & 0xf);
}

/** Undefined too where the drive is addressed by cylinders alone. */
function lbaCountOf(words: readonly number[], draft: CaptureDraft): number | undefined {
  if (((words[49] ?? 0) & 0x0200) === 0 || words.length <= 83) return undefined;
  const short = lowestFirst(words.slice(60, 62), 65_536);
  if ((validated(words, 83) & 0x0400) === 0) return short;
  const [low, middle, high, beyond = 0] = words.slice(100, 104);
  if (low === undefined || middle === undefined || high === undefined) return undefined;
  if (beyond !== 0) {
    draft.warn('The number of sectors is larger than 48 bits can address, so that it was not taken.');
    draft.keep(wordField(words, 100, 103));
    return undefined;
  }
  // As Linux does: a drive that has the command and gives no number there means the shorter one.
  return lowestFirst([low, middle, high], 65_536) || short;
}

function readWwn(words: readonly number[], draft: CaptureDraft): void {
  if (((validated(words, 84) | validated(words, 87)) & 0x0100) === 0 || words.length <= 111) return;
  const field = wordField(words, 108, 111);
  const wwn = parseWwn(field.value);
  if (!('says' in wwn)) draft.values.wwn = wwn.digits;
  else {
    draft.warn('The drive says that it has a world-wide name, but words 108 to 111 hold none.');
    if (/[^0]/.test(field.value)) draft.keep(field);
  }
}

function readHousing(words: readonly number[], draft: CaptureDraft): void {
  const form = words[168] ?? 0;
  draft.set('formFactor', formFactors[form - 1]);
  if (form > formFactors.length) draft.keep(wordField(words, 168, 168));
  const turns = words[217] ?? 0;
  if (turns === 1) draft.values.rpm = 0;
  else if (turns > 0x400 && turns < 0xffff) draft.values.rpm = turns;
  else if (turns !== 0) draft.keep(wordField(words, 217, 217));
  draft.set('transport', transportOf(words, draft));
}

function transportOf(words: readonly number[], draft: CaptureDraft): string | undefined {
  const transport = words[222] ?? 0;
  if (transport !== 0 && transport !== 0xffff) {
    const kind = transport >> 12;
    if (kind > 1) draft.keep(wordField(words, 222, 222));
    return kind > 1 ? undefined : kind === 1 ? 'sata' : 'pata';
  }
  const speeds = words[76] ?? 0;
  return speeds === 0 || speeds === 0xffff ? undefined : 'sata';
}

/** A word of flags that counts only where its top bits are 01b; 0 where it does not. */
function validated(words: readonly number[], at: number): number {
  const word = words[at] ?? 0;
  return word >> 14 === 1 ? word : 0;
}

/** Of a word whose highest bit is set, so that it has four digits. */
function hexWord(word: number): string {
  return `${word.toString(16).toUpperCase()}h`;
}

function hexByte(byte: number): string {
  return `${byte.toString(16).toUpperCase().padStart(2, '0')}h`;
}
