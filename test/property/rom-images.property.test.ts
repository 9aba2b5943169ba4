import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareImages } from '../../server/src/core/rom-images/compare-images.ts';
import { findSerial, findWwn } from '../../server/src/core/rom-images/find-identity.ts';
import { blockBytes, imageBlocks } from '../../server/src/core/rom-images/image-blocks.ts';
import { imageDifferences } from '../../server/src/core/rom-images/image-differences.ts';
import { parseWwn } from '../../server/src/core/terms/wwn.ts';
import { assertLaw, effort } from '../harness/assert-law.ts';
import { bytesOf, diceOf, joined, noise, readsOf, swappedIn, withAt } from '../harness/rom-bytes.ts';

/** Blocks as chips hold them: code, noise, nothing. */
const arbitraryBlock = fc.oneof(
  fc.constantFrom(0xff, 0, 0x5a).map((byte) => new Uint8Array(blockBytes).fill(byte)),
  fc.integer().map((seed) => noise(blockBytes, seed)),
  fc
    .tuple(fc.integer(), fc.integer({ min: 1, max: 255 }))
    .map(([seed, most]) => noise(blockBytes, seed).map((byte) => byte % most)),
);

/** Images of some blocks; the last one may be short. */
const arbitraryImage = fc
  .tuple(fc.array(arbitraryBlock, { minLength: 1, maxLength: 4 }), fc.nat(blockBytes - 1))
  .map(([blocks, cut]) => joined(...blocks).subarray(0, blocks.length * blockBytes - cut));

/** The entropy of counted bytes by another road: the sum of each share by the logarithm of its inverse. */
function entropyOf(bytes: Uint8Array): number {
  const counts = new Map<number, number>();
  for (const byte of bytes) counts.set(byte, (counts.get(byte) ?? 0) + 1);
  return [...counts.values()].reduce((sum, count) => sum + (count / bytes.length) * Math.log2(bytes.length / count), 0);
}

/** What happens to a read on its way, or to a chip. */
const mutations: readonly ((bytes: Uint8Array, dice: (limit: number) => number) => Uint8Array)[] = [
  (bytes) => bytes.slice(),
  (bytes, dice) => changedAt(bytes, dice, (byte) => byte ^ (1 << dice(8))),
  (bytes, dice) =>
    changedAt(
      changedAt(bytes, dice, (byte) => byte & ~1),
      dice,
      (byte) => byte & ~2,
    ),
  (bytes, dice) => bytes.map((byte) => byte ^ dice(256)),
  (bytes) => bytes.map(() => 0xff),
  (bytes) => bytes.map(() => 0),
  (bytes, dice) => bytes.slice(0, dice(bytes.length + 1)),
  (bytes, dice) => bytes.slice(dice(bytes.length + 1)),
  (bytes, dice) => joined(bytes, noise(dice(40), dice(1_000))),
  (bytes, dice) => joined(noise(dice(40), dice(1_000)), bytes),
  (bytes, dice) => lossAt(bytes, dice(bytes.length + 1), dice(9)),
  (bytes) => swappedIn(bytes, 2),
  (bytes) => swappedIn(bytes, 4),
  (bytes) => joined(bytes, bytes),
  (bytes) => joined(bytesOf('SFDP'), bytes),
  (bytes, dice) => bytes.map((_, at) => [0xba, 0x60, 0x14, 0xff][at % (1 + dice(4))] ?? 0),
];

function changedAt(bytes: Uint8Array, dice: (limit: number) => number, change: (byte: number) => number): Uint8Array {
  const changed = bytes.slice();
  const at = dice(bytes.length + 1);
  if (at < bytes.length) changed[at] = change(changed[at] ?? 0);
  return changed;
}

/** A read from which bytes are missing, filled up with what erased flash holds. */
function lossAt(bytes: Uint8Array, at: number, lost: number): Uint8Array {
  const fill = new Uint8Array(Math.min(lost, bytes.length - at)).fill(0xff);
  return joined(bytes.subarray(0, at), bytes.subarray(at + lost), fill);
}

/** What a comparison says, with the names of the reads exchanged. */
function exchanged(value: unknown): unknown {
  const swap = (text: string): string => {
    const pairs: Readonly<Record<string, string>> = {
      ...{ read1: 'read2', read2: 'read1', first: 'second', second: 'first' },
      ...{ 'read 1': 'read 2', 'read 2': 'read 1', 'Read 1': 'Read 2', 'Read 2': 'Read 1' },
    };
    return text.replace(/\b([rR]ead ?[12]|first|second)\b/g, (name) => pairs[name] ?? name);
  };
  if (typeof value === 'string') return swap(value);
  if (Array.isArray(value)) return value.map(exchanged);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [swap(key), exchanged(inner)]));
}

const arbitrarySerial = fc.string({
  unit: fc.constantFrom(...'ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-'),
  minLength: 4,
  maxLength: 20,
});

describe('blocks', () => {
  it('the entropy of a block lies between 0 and 8 bits and is that of its counted bytes', () => {
    assertLaw(
      60,
      fc.property(arbitraryImage, (bytes) => {
        for (const [number, { entropy, fill }] of imageBlocks(bytes).entries()) {
          const block = bytes.subarray(number * blockBytes, (number + 1) * blockBytes);
          expect(entropy).toBeGreaterThanOrEqual(0);
          expect(entropy).toBeLessThanOrEqual(8);
          expect(entropy).toBeCloseTo(entropyOf(block), 9);
          const wanted = [0xff, 0].find((byte) => block.every((one) => one === byte));
          expect(fill).toBe(wanted === undefined ? undefined : wanted === 0 ? '00' : 'ff');
        }
      }),
    );
  });
});

describe('differences', () => {
  it('an image does not differ from itself', () => {
    assertLaw(
      60,
      fc.property(arbitraryImage, (bytes) => {
        const none = { isEqual: true, blocks: [], longer: undefined, swapped: undefined, shift: undefined };
        expect(imageDifferences(bytes, bytes.slice())).toEqual(none);
      }),
    );
  });

  it('a single block that was changed is the one that differs', () => {
    assertLaw(
      60,
      fc.property(arbitraryImage, fc.nat(), fc.integer({ min: 1, max: 255 }), (bytes, where, flip) => {
        const at = where % bytes.length;
        const { isEqual, blocks } = imageDifferences(bytes, withAt(bytes, at, [(bytes[at] ?? 0) ^ flip]));
        expect({ isEqual, blocks: blocks.map(({ block, bytes: count }) => [block, count]) }).toEqual({
          isEqual: false,
          blocks: [[Math.floor(at / blockBytes), 1]],
        });
      }),
    );
  });

  it('bytes that were lost or put in show as a shift of that many', () => {
    assertLaw(
      100,
      fc.property(
        fc.integer(),
        fc.integer({ min: 200, max: 9_000 }),
        fc.double({ min: 0, max: 0.5, noNaN: true }),
        fc.integer({ min: 1, max: 40 }),
        (seed, length, share, by) => {
          const bytes = noise(length, seed);
          const at = Math.floor(length * share);
          const lost = imageDifferences(bytes, lossAt(bytes, at, by)).shift;
          expect([lost?.bytes, lost?.later]).toEqual([by, 'first']);
          const more = joined(bytes.subarray(0, at), noise(by, ~seed), bytes.subarray(at, length - by));
          const put = imageDifferences(bytes, more).shift;
          expect([put?.bytes, put?.later]).toEqual([by, 'second']);
        },
      ),
    );
  });
});

describe('the numbers of a drive', () => {
  it('a serial number that was put into an image is found, as it is and with the bytes of each pair swapped', () => {
    assertLaw(
      200,
      fc.property(fc.integer(), arbitrarySerial, fc.nat(400), fc.boolean(), (seed, serial, at, isLower) => {
        const image = noise(512, seed);
        const text = isLower ? serial.toLowerCase() : serial;
        const plain = findSerial(withAt(image, at, bytesOf(text)), serial);
        expect(plain.find(({ spelling }) => spelling === 'plain')?.at).toContain(at);
        // The string of IDENTIFY DEVICE: twenty characters, filled up with spaces on either side.
        for (const field of [text.padEnd(20), text.padStart(20), ` ${text}`.padEnd(20).slice(0, 20)]) {
          if (!field.includes(text)) continue;
          const found = findSerial(withAt(image, at, swappedIn(bytesOf(field), 2)), serial);
          const start = at + (field.indexOf(text) & ~1);
          expect(found.some((one) => one.at.includes(start))).toBe(true);
        }
      }),
    );
  });

  it('a world-wide name that was put into an image is found in each of its spellings', () => {
    const digits = fc.string({ unit: fc.constantFrom(...'0123456789abcdef'), minLength: 15, maxLength: 15 });
    assertLaw(
      200,
      fc.property(fc.integer(), digits, fc.nat(400), (seed, rest, at) => {
        const wwn = parseWwn(`5${rest}`);
        if ('says' in wwn) throw new Error(wwn.says);
        const big = Uint8Array.from(Buffer.from(`5${rest}`, 'hex'));
        const spelt = { big_endian: big, little_endian: big.toReversed(), swapped_pairs: swappedIn(big, 2) };
        for (const [spelling, bytes] of Object.entries({ ...spelt, digits: bytesOf(`5${rest}`.toUpperCase()) })) {
          const found = findWwn(withAt(noise(512, seed), at, bytes), wwn);
          expect(found.filter((one) => one.at.includes(at)).length, spelling).toBeGreaterThan(0);
        }
      }),
    );
  });
});

describe('comparisons', () => {
  it('swapping the two reads changes nothing but their names', () => {
    const dice = diceOf(20_260_314);
    for (let run = 0; run < 2_000 * effort; run++) {
      const bytes = [noise(dice(300), run), new Uint8Array(dice(200)).fill(0xff)][dice(4) === 0 ? 1 : 0] ?? noise(9, 9);
      const other = mutations[run % mutations.length]?.(bytes, dice) ?? bytes;
      const { read1, read2 } = readsOf(bytes, other);
      const one = compareImages({ read1, read2, recorded: [] });
      const back = read2 && compareImages({ read1: read2, read2: read1, recorded: [] });
      if (!isDeepStrictEqual(exchanged(back), one)) expect(exchanged(back)).toEqual(one);
    }
  });

  it('what is said of two reads fits whether they are equal, whatever happened to the second', () => {
    const dice = diceOf(7);
    for (let run = 0; run < 100_000 * effort; run++) {
      const bytes = dice(5) === 0 ? new Uint8Array(dice(96)).fill(0xff) : noise(dice(96), run);
      const other = mutations[dice(mutations.length)]?.(bytes, dice) ?? bytes;
      const { reads, remarks } = compareImages(readsOf(bytes, other));
      const isEqual = Buffer.compare(bytes, other) === 0;
      const [verdict] = remarks;
      if (reads?.isEqual !== isEqual || verdict.case.startsWith('reads_') === isEqual) {
        expect({ run, bytes, other, verdict }).toBe('judged rightly');
      }
    }
  });
});
