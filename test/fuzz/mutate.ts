import type { diceOf } from '../harness/rom-bytes.ts';
import { dictionary } from './dictionary.ts';

/** Gives a number from 0 to below a limit. */
type Dice = ReturnType<typeof diceOf>;

/** What a mutation works with. */
export interface Material {
  readonly dice: Dice;
  /** Another input, parts of which may be taken. */
  readonly other: Uint8Array;
}

type Mutator = (bytes: Uint8Array, material: Material) => Uint8Array;

/** Bytes at the ends of what a byte, a sign or a character may be. */
const telling = [0, 1, 0x0a, 0x0d, 0x20, 0x22, 0x27, 0x2d, 0x3a, 0x7f, 0x80, 0xc0, 0xe2, 0xf0, 0xfe, 0xff] as const;

/** The bytes with some of them replaced. */
function replaced(bytes: Uint8Array, at: number, length: number, part: Uint8Array): Uint8Array {
  const after = new Uint8Array(bytes.length - length + part.length);
  after.set(bytes.subarray(0, at));
  after.set(part, at);
  after.set(bytes.subarray(at + length), at + part.length);
  return after;
}

/** A stretch of bytes, short more often than long. */
function stretchIn(bytes: Uint8Array, dice: Dice): readonly [start: number, length: number] {
  const start = dice(bytes.length + 1);
  return [start, dice(Math.min(bytes.length - start, 1 << dice(9)) + 1)];
}

function withByte(bytes: Uint8Array, at: number, byte: number): Uint8Array {
  const changed = bytes.slice();
  if (at < changed.length) changed[at] = byte;
  return changed;
}

const mutators: readonly Mutator[] = [
  (bytes, { dice }) => withByte(bytes, dice(bytes.length + 1), dice(256)),
  (bytes, { dice }) => withByte(bytes, dice(bytes.length + 1), telling[dice(telling.length)] ?? 0),
  (bytes, { dice }) => {
    const at = dice(bytes.length + 1);
    return withByte(bytes, at, (bytes[at] ?? 0) ^ (1 << dice(8)));
  },
  (bytes, { dice }) => {
    const at = dice(bytes.length + 1);
    return withByte(bytes, at, (bytes[at] ?? 0) + dice(35) - 17);
  },
  (bytes, { dice }) => {
    const [start, length] = stretchIn(bytes, dice);
    return replaced(bytes, start, length, new Uint8Array());
  },
  (bytes, { dice }) => {
    const [start, length] = stretchIn(bytes, dice);
    return replaced(bytes, dice(bytes.length + 1), 0, bytes.subarray(start, start + length));
  },
  (bytes, { dice }) => {
    const [start, length] = stretchIn(bytes, dice);
    const part = bytes.slice(start, start + length);
    return replaced(replaced(bytes, start, length, new Uint8Array()), dice(bytes.length - length + 1), 0, part);
  },
  (bytes, { dice, other }) => {
    const [start, length] = stretchIn(other, dice);
    const [at, gone] = stretchIn(bytes, dice);
    return replaced(bytes, at, gone, other.subarray(start, start + length));
  },
  (bytes, { dice, other }) => {
    const [kept, at] = [dice(bytes.length + 1), dice(other.length + 1)];
    return replaced(bytes, kept, bytes.length - kept, other.subarray(at));
  },
  (bytes, { dice }) => replaced(bytes, dice(bytes.length + 1), 0, wordFor(dice)),
  (bytes, { dice }) => {
    const [at, gone] = stretchIn(bytes, dice);
    return replaced(bytes, at, gone, wordFor(dice));
  },
  (bytes, { dice }) => {
    // Digits are replaced as a whole: a number cut in two is mostly another number of the same kind.
    const digits = [...Buffer.from(bytes).toString('latin1').matchAll(/\d+/g)];
    const found = digits[dice(Math.max(digits.length, 1))];
    return found ? replaced(bytes, found.index, found[0].length, wordFor(dice)) : bytes;
  },
];

function wordFor(dice: Dice): Uint8Array {
  return dictionary[dice(dictionary.length)] ?? new Uint8Array();
}

/** The bytes after one to eight changes; few more often than many. */
export function mutate(bytes: Uint8Array, material: Material): Uint8Array {
  const { dice } = material;
  let mutant = bytes;
  for (let left = 1 << dice(4); left > 0; left--) {
    mutant = (mutators[dice(mutators.length)] ?? ((same: Uint8Array) => same))(mutant, material);
  }
  return mutant;
}
