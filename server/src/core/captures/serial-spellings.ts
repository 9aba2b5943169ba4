/**
 * The ways in which a serial number may stand in what a drive reported: as text, padded, as ATA has it with the two bytes of every word
 * exchanged, from the back, and each of these as hexadecimal digits.
 * Source: ATA/ATAPI Command Set, "ATA string convention".
 */

import type { Span } from '../syntax/tape.ts';
import { addTo } from '../terms/grouped.ts';

/** Shorter numbers are found only where they stand alone: as a part of something they would be found everywhere. */
const fewestCharacters = 4;

/** A serial number with what to look for. */
export interface SpeltSerial {
  readonly serial: string;
  /** Without padding, in lower case; the number as it is comes first. */
  readonly spellings: readonly string[];
}

/** The spellings of a serial number; undefined where it holds no character at all. */
export function spell(serial: string): SpeltSerial | undefined {
  const characters = [...serial].filter((character) => !isPadding(character));
  if (characters.length === 0) return undefined;
  if (characters.length < fewestCharacters) return { serial, spellings: [toNeedle(characters)] };
  // Padding within the number has its place when bytes are exchanged.
  const whole = [...serial];
  const orders = [characters, characters.toReversed(), ...[characters, whole].flatMap(exchangedBothWays)];
  return { serial, spellings: [...new Set(orders.map(toNeedle))] };
}

/** Serial numbers as they are looked for, all at once: a base may hold thousands. */
export interface SoughtSerials {
  /** Spellings by their first characters. */
  readonly byStart: ReadonlyMap<string, readonly Needle[]>;
  /** Spellings too short for that. */
  readonly short: readonly Needle[];
}

interface Needle {
  readonly serial: string;
  readonly spelling: string;
  /** Which serial number it is, and which of its spellings, counted from 0. */
  readonly order: number;
  readonly at: number;
}

/** Makes serial numbers ready to be looked for. Where two end up in one place, the one given first counts. */
export function seek(serials: readonly SpeltSerial[]): SoughtSerials {
  const byStart = new Map<string, Needle[]>();
  const short: Needle[] = [];
  for (const [order, { serial, spellings }] of serials.entries()) {
    for (const [at, spelling] of spellings.entries()) {
      const needle = { serial, spelling, order, at };
      if (spelling.length < fewestCharacters) short.push(needle);
      else addTo(byStart, spelling.slice(0, fewestCharacters), needle);
    }
  }
  return { byStart, short };
}

/** A stretch of text in which a serial number stands. */
export interface FoundSerial extends Span {
  readonly serial: string;
  /** Whether it stands there as it is. */
  readonly isPlain: boolean;
}

/** Where the serial numbers stand in a text, in whatever spelling: in the order of the text, the longer of two that begin together first. */
export function findSpelt(text: string, sought: SoughtSerials): readonly FoundSerial[] {
  const views = [plainView(text), ...digitViews(text)];
  const hits = views.flatMap((view) => hitsIn(view, text, sought));
  return hits
    .sort((a, b) => a.start - b.start || b.end - a.end || a.needle.order - b.needle.order)
    .map(({ start, end, needle, view }) => {
      return { start, end, serial: needle.serial, isPlain: view.isPlain && needle.at === 0 };
    });
}

/** What a text says once padding is left out, in lower case, with the stretch of text that each character stands for. */
interface View {
  readonly characters: string;
  readonly starts: readonly number[];
  readonly ends: readonly number[];
  readonly isPlain: boolean;
}

interface Hit extends Span {
  readonly needle: Needle;
  readonly view: View;
}

function hitsIn(view: View, text: string, { byStart, short }: SoughtSerials): readonly Hit[] {
  const { characters } = view;
  const hits: Hit[] = [];
  for (let at = 0; at + fewestCharacters <= characters.length; at++) {
    for (const needle of byStart.get(characters.slice(at, at + fewestCharacters)) ?? []) {
      if (characters.startsWith(needle.spelling, at)) hits.push(hitAt(view, at, needle));
    }
  }
  return view.isPlain ? [...hits, ...short.flatMap((needle) => standingAlone(view, text, needle))] : hits;
}

function standingAlone(view: View, text: string, needle: Needle): readonly Hit[] {
  const hits: Hit[] = [];
  const { characters } = view;
  for (let at = characters.indexOf(needle.spelling); at >= 0; at = characters.indexOf(needle.spelling, at + 1)) {
    const hit = hitAt(view, at, needle);
    if (/[\p{L}\p{N}]$/u.test(text.slice(0, hit.start)) || /^[\p{L}\p{N}]/u.test(text.slice(hit.end))) continue;
    hits.push(hit);
  }
  return hits;
}

function hitAt(view: View, at: number, needle: Needle): Hit {
  const start = view.starts[at] ?? 0;
  return { start, end: view.ends[at + needle.spelling.length - 1] ?? start, needle, view };
}

function plainView(text: string): View {
  const kept = Array.from({ length: text.length }, (_, at) => at).filter((at) => !isPadding(text.charAt(at)));
  return {
    characters: kept.map((at) => lowered(text.charAt(at))).join(''),
    starts: kept,
    ends: kept.map((at) => at + 1),
    isPlain: true,
  };
}

/** What the digits in a text say as bytes; nobody knows whether the first digit is a whole byte's, so both readings count. */
function digitViews(text: string): readonly View[] {
  return Array.from(text.matchAll(/(?:0x|[0-9a-f\s,:;_*-])+/gi)).flatMap(({ 0: run, index }) => {
    const digits = Array.from(run.matchAll(/0x|[0-9a-f]/gi))
      .filter(({ 0: part }) => part.length === 1)
      .map((digit) => ({ digit: digit[0], at: index + digit.index }));
    return digits.length < 2 * fewestCharacters ? [] : [toBytes(digits), toBytes(digits.slice(1))];
  });
}

function toBytes(digits: readonly { readonly digit: string; readonly at: number }[]): View {
  const starts: number[] = [];
  const ends: number[] = [];
  let characters = '';
  for (let first = 0; first + 1 < digits.length; first += 2) {
    const [high, low] = [digits[first], digits[first + 1]];
    if (!high || !low) break;
    const character = String.fromCharCode(Number.parseInt(high.digit + low.digit, 16));
    if (isPadding(character)) continue;
    characters += lowered(character);
    starts.push(high.at);
    ends.push(low.at + 1);
  }
  return { characters, starts, ends, isPlain: false };
}

/** Padding, and the star of a number that was masked in part. */
const padding: ReadonlySet<string> = new Set(' \t\n\v\f\r\u00a0\0*');

function isPadding(character: string): boolean {
  return padding.has(character);
}

/** Exchanged in pairs that begin at the first character, and in pairs that begin before it. */
function exchangedBothWays(characters: readonly string[]): readonly (readonly string[])[] {
  return [exchanged(characters), exchanged([' ', ...characters])];
}

function exchanged(characters: readonly string[]): readonly string[] {
  const pairs: string[] = [];
  for (let at = 0; at < characters.length; at += 2) pairs.push(characters[at + 1] ?? '', characters[at] ?? '');
  return pairs;
}

function toNeedle(characters: readonly string[]): string {
  return characters
    .filter((character) => !isPadding(character))
    .map(lowered)
    .join('');
}

/** In lower case, but never as more characters than before: positions have to stay. */
function lowered(character: string): string {
  const lower = character.toLowerCase();
  return lower.length === character.length ? lower : character;
}
