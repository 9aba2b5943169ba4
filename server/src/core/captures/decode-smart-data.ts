/**
 * SMART READ DATA: counters of an ATA drive, in entries that no standard lays down and all makers follow.
 * Laws (test/property/decode-smart-data.property.test.ts):
 * - what was encoded is decoded, raw values of 48 bits exactly
 * - every single damaged byte is noticed
 */
import { byteSum, hexOf, lowestFirst } from './bytes.ts';
import { CaptureDraft } from './capture-draft.ts';
import type { CaptureValues, Decoded } from './decoded.ts';

/** Bytes of the whole answer. */
const smartBytes = 512;

const entries = { at: 2, count: 30, bytes: 12 } as const;

interface Entry {
  readonly id: number;
  /** The twelve bytes, that of the id first. */
  readonly bytes: Uint8Array;
}

/** Where the raw value of an attribute goes, and the bits of it that hold the count; some makers pack other things above. */
export interface CounterRow {
  readonly key: keyof Pick<
    CaptureValues,
    'powerOnHours' | 'powerCycles' | 'reallocated' | 'pending' | 'offlineUncorrectable'
  >;
  readonly bits: 16 | 24 | 48;
}

/** The attributes that have names here. Source: smartmontools, drivedb.h, the widths of its default entry. */
export const counters: Readonly<Record<number, CounterRow>> = {
  5: { key: 'reallocated', bits: 16 },
  9: { key: 'powerOnHours', bits: 24 },
  12: { key: 'powerCycles', bits: 48 },
  197: { key: 'pending', bits: 48 },
  198: { key: 'offlineUncorrectable', bits: 48 },
};

/** Further attributes that mean the same everywhere. Source: public listings of SMART attributes. */
const wellKnown: readonly number[] = [1, 3, 4, 7, 10, 192, 193, 194, 196, 199];

/** Decodes SMART READ DATA; where less than 512 bytes are there, what they hold. Never throws. */
export function decodeSmartData(bytes: Uint8Array): Decoded {
  const draft = new CaptureDraft();
  if (bytes.length < smartBytes) {
    draft.fail(`Only ${bytes.length} of ${smartBytes} bytes are there, so that the checksum is missing.`);
  } else if (byteSum(bytes) !== 0) {
    const stored = bytes[511] ?? 0;
    const right = (stored + 256 - byteSum(bytes)) % 256;
    draft.fail(
      `The checksum is \`${hexOf([stored])}h\` where the bytes call for \`${hexOf([right])}h\`: some of them are damaged.`,
    );
  }
  if (areThresholds(bytes)) {
    draft.fail('These are the thresholds of the attributes, not their values.');
    return draft.done('smart_data');
  }
  for (const { id, bytes: entry } of entriesOf(bytes)) {
    const raw = lowestFirst([...entry.subarray(5, 11)], 256);
    const isRead = setCounter(draft, id, raw);
    if (!isRead && !wellKnown.includes(id)) draft.keep({ at: `attribute ${id}`, value: hexOf(entry.subarray(1)) });
    else if (entry[11] !== 0) draft.keep({ at: `attribute ${id}, byte 11`, value: hexOf(entry.subarray(11)) });
  }
  const vendor = bytes.subarray(386, 511);
  if (vendor.some((byte) => byte !== 0)) draft.keep({ at: 'bytes 386 to 510', value: hexOf(vendor) });
  return draft.done('smart_data');
}

/** Takes the count out of a raw value, and says where there is more in it. False where the attribute has no name here. */
export function setCounter(draft: CaptureDraft, id: number, raw: number): boolean {
  const row = counters[id];
  if (row === undefined) return false;
  const count = raw % 2 ** row.bits;
  draft.values[row.key] = count;
  if (count !== raw) {
    draft.warn(
      `Attribute ${id} holds more than a count (raw \`${raw}\`); its lowest ${row.bits} bits, \`${count}\`, were taken.`,
    );
  }
  return true;
}

/** Whether bytes that are no text look like SMART READ DATA, or the thresholds, whole or cut short behind some entries. */
export function looksLikeSmartData(bytes: Uint8Array): boolean {
  if (bytes.length > smartBytes) return false;
  const found = entriesOf(bytes);
  const isOrdered = new Set(found.map(({ id }) => id)).size === found.length && (bytes[1] ?? 0) < 2;
  if (found.length === 0 || !isOrdered) return false;
  return (bytes.length === smartBytes && byteSum(bytes) === 0) || areAttributes(found);
}

/** Whether these can be nothing else than whole SMART READ DATA. Their checksum may happen to be the signature of IDENTIFY DEVICE data. */
export function isSmartData(bytes: Uint8Array): boolean {
  return (
    bytes.length === smartBytes && byteSum(bytes) === 0 && looksLikeSmartData(bytes) && areAttributes(entriesOf(bytes))
  );
}

/** Of the flags only the lower byte is used, and values that were normalised are neither 0 nor FFh. */
function areAttributes(found: readonly Entry[]): boolean {
  return found.length > 2 && found.every(({ bytes: entry }) => entry[2] === 0 && entry[3] !== 0 && entry[3] !== 0xff);
}

/** The table of thresholds has the same form with everything but ids and thresholds zero. */
function areThresholds(bytes: Uint8Array): boolean {
  const found = entriesOf(bytes);
  return found.length > 0 && found.every(({ bytes: entry }) => entry.subarray(2).every((byte) => byte === 0));
}

/** The entries that are used and whole. */
function entriesOf(bytes: Uint8Array): readonly Entry[] {
  const found: Entry[] = [];
  for (let position = 0; position < entries.count; position += 1) {
    const at = entries.at + position * entries.bytes;
    const entry = bytes.subarray(at, at + entries.bytes);
    if (entry.length < entries.bytes) break;
    const [id = 0] = entry;
    if (id !== 0) found.push({ id, bytes: entry });
  }
  return found;
}
