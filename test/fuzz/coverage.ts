/** Blocks of the core that were entered, where it was built to count them; see `build-counted.ts`. */
export interface Coverage {
  /** Forgets what was entered so far, before an execution. */
  readonly begin: () => void;
  /** Whether the execution entered a block that none before it did, or some block a clearly different number of times. */
  readonly isNews: () => boolean;
  /** The numbers of the blocks that the execution entered. */
  readonly entered: () => readonly number[];
  /** How many blocks all executions entered. */
  readonly reached: () => number;
  /** Blocks there are. */
  readonly blocks: number;
}

/** Under which name the counts of a counted build are found. Each is one byte, and begins anew after 255. */
export const countsName = 'swaploreBlockCounts';

/** Numbers that count as different: 1, 2, 3, up to 7, 15, 31, 127, more. */
const bitOf = Uint8Array.from({ length: 256 }, (_, count) =>
  count === 0
    ? 0
    : 1 <<
      Math.min(
        [1, 2, 3, 7, 15, 31, 127, 255].findIndex((most) => count <= most),
        7,
      ),
);

/** The counts of this build; undefined where it was not built to count. */
export function findCoverage(): Coverage | undefined {
  const counts = (globalThis as Readonly<Record<string, unknown>>)[countsName];
  if (!(counts instanceof Uint8Array)) return undefined;
  const words = new Uint32Array(counts.buffer, 0, counts.length / 4);
  const seen = new Uint8Array(counts.length);
  return {
    begin: () => void counts.fill(0),
    isNews: () => {
      let isNew = false;
      for (let word = 0; word < words.length; word++) {
        if (words[word] === 0) continue;
        for (let at = 4 * word; at < 4 * word + 4; at++) {
          const bit = bitOf[counts[at] ?? 0] ?? 0;
          const known = seen[at] ?? 0;
          if ((known | bit) === known) continue;
          seen[at] = known | bit;
          isNew = true;
        }
      }
      return isNew;
    },
    entered: () => [...counts.entries()].flatMap(([block, count]) => (count > 0 ? [block] : [])),
    reached: () => seen.reduce((sum, bits) => sum + Number(bits > 0), 0),
    blocks: counts.length,
  };
}
