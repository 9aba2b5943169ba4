/**
 * Simulated shops: a shelf of spare drives of one family, and a law that nobody in the shop knows.
 *
 * Drives come in batches, as they do from the plants: one batch shares most of what is recorded, and each of its drives differs in some.
 */
import { comparableKeys } from '../../../schemas/gen/key-table.ts';
import { evaluateAtom } from '../../../server/src/core/conditions/evaluate.ts';
import type { Swap } from '../../../server/src/core/conditions/swap.ts';
import type { Entry } from '../../../server/src/core/explanations/entry.ts';
import type { Snapshot } from '../../../server/src/core/index/snapshot.ts';
import { snapshotOf } from '../../harness/snapshot-of.ts';
import type { Random } from '../base/random.ts';

/** How the outcomes of a shop come about. */
export type World = 'cause' | 'no_cause' | 'noise';

/** A shop. */
export interface Shop {
  readonly snapshot: Snapshot;
  /** What it really depends on, if that is among the keys: it works where all hold. */
  readonly cause: readonly Entry[] | undefined;
  /** The result of a swap, drawn anew; the same for the same draw. */
  readonly works: (swap: Swap, random: Random) => boolean;
}

/** The share of swaps that come out against the cause. */
const errorRate = 0.05;

/**
 * What drives of a batch share, with the number of values that occur in a family, and how often a single drive has another. Source:
 * common practice, no source: a plant changes several things at a time, from one batch to the next.
 */
const keys = {
  part_number: { values: 10, strays: 0.1 },
  firmware: { values: 8, strays: 0.15 },
  rom_version: { values: 8, strays: 0.15 },
  site: { values: 4, strays: 0.05 },
  heads: { values: 3, strays: 0.1 },
  head_map: { values: 8, strays: 0.3 },
  head_stack_code: { values: 4, strays: 0.1 },
  preamp: { values: 3, strays: 0.1 },
} as const;

type Key = keyof typeof keys;

/** A shelf fills with what customers and markets bring: small lots. */
const usualLots: Lots = { batches: 12, perBatch: 3 };

const [revisions, otherRevision] = [4, 0.1] as const;

/** A shop of a world. Its shelf, its cause and its results follow from the random numbers alone. */
export function shop(world: World, random: Random): Shop {
  const snapshot = shelf(random, usualLots);
  if (world === 'cause') {
    const cause = drawCause(random);
    const holds = (swap: Swap): boolean =>
      cause.every(({ atom, wanted }) => (evaluateAtom(atom, swap) === true) === wanted);
    return { snapshot, cause, works: (swap, draw) => holds(swap) !== draw.chance(errorRate) };
  }
  const rate = random.integer(30, 70) / 100;
  if (world === 'noise') return { snapshot, cause: undefined, works: (_, draw) => draw.chance(rate) };
  // Something about each pair that no record tells; tried again it comes out alike, but for the errors.
  const hidden = new Map<string, boolean>();
  const works = ({ patient, donor }: Swap, draw: Random): boolean => {
    const pair = [patient.drive.id, donor.drive.id].sort().join(' ');
    const known = hidden.get(pair) ?? draw.chance(rate);
    hidden.set(pair, known);
    return known !== draw.chance(errorRate);
  };
  return { snapshot, cause: undefined, works };
}

/** Drawn as explanations are weighed before any swap: one entry in four shops of five, else two; every entry as likely as the next. */
function drawCause(random: Random): readonly Entry[] {
  const compared = comparableKeys.filter((key) => key in keys || key === 'rev' || key === 'controller');
  const entries: readonly Entry[] = [
    { atom: { test: 'rom_travels' }, wanted: true },
    ...compared.map((key): Entry => ({ atom: { test: 'same', key }, wanted: true })),
  ];
  const first = random.pick(entries);
  if (random.chance(0.8)) return [first];
  return [first, random.pick(entries.filter((entry) => entry !== first))];
}

/** How a shelf is filled. */
export interface Lots {
  readonly batches: number;
  readonly perBatch: number;
}

/** A base that holds a shelf of sound spares of family `tern`, and no outcome. */
export function shelf(random: Random, { batches, perBatch }: Lots): Snapshot {
  const parts = Array.from({ length: revisions }, (_, n) => `  - {rev: R${n}, controller: KR${n % 2}}\n`).join('');
  const drives = Array.from({ length: batches }, (_, batch) => {
    const shared = Object.fromEntries(
      Object.entries(keys).map(([key, { values }]) => [key, random.integer(1, values)]),
    ) as Record<Key, number>;
    const usual = random.integer(0, revisions - 1);
    return Array.from({ length: perBatch }, (_, n) => {
      const rev = random.chance(otherRevision) ? random.integer(0, revisions - 1) : usual;
      return drive(`d-${batch}-${n}`, shared, rev, random);
    });
  });
  return snapshotOf({
    'makers.yaml': 'kind: maker\nid: wren\nname: Wren\n',
    'family.yaml': 'kind: family\nid: tern\nmaker: wren\nname: Tern\nadaptives: {stored_in: rom_chip}\n',
    'board.yaml': `kind: board\nid: k-10\nmaker: wren\npart_number: "10"\nfamilies: [tern]\nrevisions:\n${parts}`,
    ...Object.fromEntries(drives.map((batch, n) => [`drives/${n}.yaml`, batch.join('---\n')])),
  });
}

function drive(id: string, shared: Readonly<Record<Key, number>>, rev: number, random: Random): string {
  const lines = (Object.keys(keys) as Key[]).map((key) => {
    const { values, strays } = keys[key];
    const isStray = random.chance(strays);
    const value = isStray ? random.integer(1, values) : shared[key];
    return `${key}: ${key === 'heads' ? 2 * value : `"${key.slice(0, 2).toUpperCase()}${value}"`}\n`;
  });
  return `kind: drive\nid: ${id}\nfamily: tern\n${lines.join('')}board: {id: k-10, rev: R${rev}}\ncondition: {board: good, media: good}\ndata: none\nshelf: {spare: true}\n`;
}
