/**
 * Takes serial numbers out of whatever was made of a capture.
 * Laws (test/property/mask-serials.property.test.ts):
 * - no text holds a serial number afterwards, plain, padded, byte-swapped or as hexadecimal digits
 * - a serial number that runs over several unnamed fields is in none of them afterwards
 * - a serial number is shown with four characters at most, and never whole
 * - no digest of what held a serial number is left
 * - masking twice is masking once
 * - without a serial number nothing changes
 */
import { isMap } from '../syntax/is-map.ts';
import type { Span } from '../syntax/tape.ts';
import { isMaskedSerial, maskedSerial } from '../terms/masked-serial.ts';
import { isFullSerial } from '../terms/same-serial.ts';
import { type FoundSerial, findSpelt, seek, spell } from './serial-spellings.ts';

/** How serial numbers are written: in full, as `****` with a tail, or as a digest for which somebody outside has the key. */
export type SerialPolicy = 'full' | 'masked' | { readonly digestOf: (serial: string) => string };

const stars = '****';

/**
 * The same with every serial number covered, wherever and however it is spelt: the number itself as the policy says, other spellings of it
 * by stars. A serial number is what stands under a key `serial`; world-wide names and days are left alone. A number of which nothing may
 * be shown is left out, and so are digests of sources.
 */
export function maskSerials<Value>(value: Value, policy: SerialPolicy): Value {
  if (policy === 'full') return value;
  const cover = serialCover(recordedSerials(value), policy);
  return cover === undefined ? value : (covered(value, '', cover) as Value);
}

/** Something that covers serial numbers in a text. */
export interface SerialCover {
  /** What stands for a serial number; undefined where nothing may be shown of it. */
  readonly instead: (serial: string) => string | undefined;
  /** The text without any of them. */
  readonly clean: (text: string) => string;
  /** The stretches of a text in which one of them stands, in no particular order. */
  readonly find: (text: string) => readonly Span[];
}

/** What covers these serial numbers, those that are masked left alone; undefined where there is nothing to cover. */
export function serialCover(
  serials: readonly string[],
  policy: Exclude<SerialPolicy, 'full'>,
): SerialCover | undefined {
  const hidden = [...new Set(serials.filter(isSecret))].flatMap((serial) => spell(serial) ?? []);
  if (hidden.length === 0) return undefined;
  const sought = seek(hidden);
  const find = (text: string) => findSpelt(text, sought);
  const tails = new Map(
    hidden.map(({ serial }) => [serial, tailsOf(serial).find((tail) => find(tail).length === 0)] as const),
  );
  const shown = typeof policy === 'object' ? undefined : tails;
  const clean = (text: string) => {
    let cleaned = withStars(text, find(text), (serial) => shown?.get(serial) ?? stars);
    // With what stands around it, a tail may be another number. Each round leaves fewer characters, so there is a last one.
    for (let found = find(cleaned); found.length > 0; found = find(cleaned)) {
      cleaned = withStars(cleaned, found, () => stars);
    }
    return cleaned;
  };
  const instead = (serial: string) => {
    if (tails.has(serial)) return typeof policy === 'object' ? policy.digestOf(serial.trim()) : tails.get(serial);
    return serial.startsWith('digest:') ? serial : clean(serial);
  };
  return { instead, clean, find };
}

/** The text with something else where numbers were found; for those that overlap what stands for the longest of them. */
function withStars(text: string, found: readonly FoundSerial[], insteadOf: (serial: string) => string): string {
  let written = '';
  let from = 0;
  for (let at = 0; at < found.length; ) {
    let longest = found[at];
    if (!longest) break;
    const { start } = longest;
    let { end } = longest;
    for (at++; (found[at]?.start ?? end) < end; at++) {
      const next = found[at];
      if (!next) break;
      if (next.end - next.start > longest.end - longest.start) longest = next;
      end = Math.max(end, next.end);
    }
    written += text.slice(from, start) + (longest.isPlain ? insteadOf(longest.serial) : stars);
    from = end;
  }
  return written + text.slice(from);
}

/** What may be shown of a number, the longest tail first: that of one number may be the whole of another. */
function tailsOf(serial: string): readonly string[] {
  const tail = [...(maskedSerial(serial) ?? '')].slice(stars.length);
  return tail.map((_, at) => stars + tail.slice(at).join(''));
}

/** Whether a text under `serial` is a number that must not be seen. A digest that is too short hides its number all the same. */
function isSecret(serial: string): boolean {
  return !isMaskedSerial(serial) && (isFullSerial(serial) || serial.trim().startsWith(stars));
}

/** Keys whose values cannot lead back to an owner, or would mean nothing with stars in them. */
const leftAlone: ReadonlySet<string> = new Set(['wwn', 'format', 'taken', 'severity']);

/** The sum of a page that holds little but a serial number: with four characters shown, trying the others takes a second. */
const givesAway = 'sha256';

/** All that stands under a key `serial`, masked or not. */
export function recordedSerials(value: unknown, key = ''): readonly string[] {
  if (typeof value === 'string') return key === 'serial' ? [value] : [];
  if (Array.isArray(value)) return value.flatMap((item) => recordedSerials(item));
  return isMap(value) ? Object.entries(value).flatMap(([name, part]) => recordedSerials(part, name)) : [];
}

function covered(value: unknown, key: string, cover: SerialCover): unknown {
  if (typeof value === 'string') return leftAlone.has(key) ? value : coveredText(value, key, cover);
  if (Array.isArray(value)) {
    const items = value.map((item) => covered(item, '', cover));
    return key === 'unnamed' ? withoutSplit(items, cover) : items;
  }
  if (!isMap(value)) return value;
  const parts = Object.entries(value).map(([name, part]) => [name, covered(part, name, cover)] as const);
  return Object.fromEntries(parts.filter(([name, part]) => name !== givesAway && part !== undefined));
}

function coveredText(text: string, key: string, cover: SerialCover): string | undefined {
  return key === 'serial' ? cover.instead(text) : cover.clean(text);
}

/** The fields, with stars for those that hold a number only together with their neighbours. */
function withoutSplit(fields: readonly unknown[], cover: SerialCover): readonly unknown[] {
  const values = fields.map((field) => (isMap(field) ? String(field['value']) : ''));
  for (;;) {
    const spans = cover.find(values.join(''));
    if (spans.length === 0) break;
    let start = 0;
    for (const [at, value] of values.entries()) {
      const end = start + value.length;
      if (spans.some((span) => span.start < end && span.end > start)) values[at] = stars;
      start = end;
    }
  }
  return fields.map((field, at) => (isMap(field) ? { ...field, value: values[at] } : field));
}
