/** What an IDENTIFY DEVICE answer is made of. */
export interface IdentifyInput {
  readonly serial?: string;
  readonly firmware?: string;
  readonly model?: string;
  /** 16 hexadecimal digits. */
  readonly wwn?: string;
  readonly lbaCount?: number;
  readonly logicalSectorBytes?: number;
  /** A power of two times the logical sector. */
  readonly physicalSectorBytes?: number;
  /** 0 where nothing turns. */
  readonly rpm?: number;
  /** Code of word 168. */
  readonly formFactor?: number;
  readonly transport?: 'pata' | 'sata';
  /** Words as they are, in place of what the rest says. */
  readonly words?: Readonly<Record<number, number>>;
  /** False for a drive that gives no checksum. */
  readonly hasChecksum?: boolean;
}

/** An answer to IDENTIFY DEVICE as a drive sends it, 512 bytes. Source of the layout: hdparm 9.65, identify.c; Linux, include/linux/ata.h. */
export function encodeIdentify(input: IdentifyInput): Uint8Array {
  const words = new Uint16Array(256);
  words.set([0x0040, 0x3fff, 0xc837, 0x0010], 0);
  for (const [at, word] of Object.entries(commonWords)) words[Number(at)] = word;
  setText(words, 10, 10, input.serial ?? '');
  setText(words, 23, 4, input.firmware ?? '');
  setText(words, 27, 20, input.model ?? '');
  setSectors(words, input);
  if (input.wwn !== undefined) {
    words[84]! |= 0x0100;
    words[87]! |= 0x0100;
    for (let at = 0; at < 4; at += 1) words[108 + at] = Number.parseInt(input.wwn.slice(4 * at, 4 * at + 4), 16);
  }
  words[168] = input.formFactor ?? 0;
  if (input.rpm !== undefined) words[217] = input.rpm === 0 ? 1 : input.rpm;
  if (input.transport !== undefined) words[222] = input.transport === 'sata' ? 0x107f : 0x00ff;
  for (const [at, word] of Object.entries(input.words ?? {})) words[Number(at)] = word;
  const bytes = toBytes(words);
  return input.hasChecksum === false ? bytes : withChecksum(bytes);
}

/** The same with the signature and the checksum that make the sum of all bytes 0. */
export function withChecksum(bytes: Uint8Array): Uint8Array {
  const signed = Uint8Array.from(bytes);
  signed[510] = 0xa5;
  signed[511] = 0;
  signed[511] = (256 - (signed.reduce((sum, byte) => sum + byte, 0) % 256)) % 256;
  return signed;
}

/** The words as `hdparm --Istdout` prints them, eight a line. */
export function toWordsText(bytes: Uint8Array): string {
  const words = Array.from({ length: bytes.length / 2 }, (_, at) =>
    (bytes[2 * at]! + 256 * bytes[2 * at + 1]!).toString(16).padStart(4, '0'),
  );
  const lines = Array.from({ length: Math.ceil(words.length / 8) }, (_, line) => words.slice(8 * line, 8 * line + 8));
  return lines.map((line) => `${line.join(' ')}\n`).join('');
}

/** What nearly all drives say alike: LBA, DMA, 48-bit addresses, SMART. */
const commonWords = {
  47: 0x8010,
  49: 0x2f00,
  50: 0x4000,
  53: 0x0007,
  80: 0x03f0,
  82: 0x346b,
  83: 0x7401,
  84: 0x4063,
} as const;

/** Highest number of sectors that 28 bits can say. */
const most28 = 0x0fffffff;

function setSectors(words: Uint16Array, input: IdentifyInput): void {
  const { lbaCount = 0, logicalSectorBytes: logical = 512, physicalSectorBytes: physical = logical } = input;
  words[85] = 0x3469;
  words[86] = 0x3401;
  words[87] = 0x4063;
  setLowestFirst(words, 60, 2, Math.min(lbaCount, most28));
  setLowestFirst(words, 100, 4, lbaCount);
  const isLong = logical !== 512;
  if (isLong || physical !== logical) {
    words[106] = 0x4000 | (isLong ? 0x1000 : 0) | (physical === logical ? 0 : 0x2000 | Math.log2(physical / logical));
  }
  if (isLong) setLowestFirst(words, 117, 2, logical / 2);
}

function setLowestFirst(words: Uint16Array, at: number, count: number, value: number): void {
  for (let position = 0; position < count; position += 1) {
    words[at + position] = Math.floor(value / 65_536 ** position) % 65_536;
  }
}

/** The first character of each pair stands in the upper byte; spaces fill up. */
function setText(words: Uint16Array, at: number, count: number, text: string): void {
  const padded = text.padEnd(2 * count, ' ');
  for (let position = 0; position < count; position += 1) {
    words[at + position] = padded.charCodeAt(2 * position) * 256 + padded.charCodeAt(2 * position + 1);
  }
}

function toBytes(words: Uint16Array): Uint8Array {
  return Uint8Array.from(Array.from(words).flatMap((word) => [word & 0xff, word >> 8]));
}
