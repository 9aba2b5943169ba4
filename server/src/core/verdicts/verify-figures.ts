import type { Snapshot } from '../index/snapshot.ts';
import { hasUnusable, type OutcomeRecord } from '../model/record.ts';
import { capacityBytes } from '../terms/capacity.ts';
import { fullPassMinutes, unreadableShareBound } from '../terms/verification.ts';
import { capacityFactsOf, type PairContext, pairOf } from './drive-context.ts';
import { isComparing, type Verified, verifiedShare } from './verified-share.ts';
import { isBeyondCapacity, type VerifyRow, verifyRowsOf } from './verify-rows.ts';

/** What follows from blocks gone over without error. */
export interface UnreadableBound {
  /** How many blocks, each counted once. */
  readonly blocks: number;
  readonly blockBytes: number;
  /** The share of unreadable blocks, 0 to 1, that the true one stays below with 95 % confidence. */
  readonly share: number;
}

/** What one row comes to; each is undefined where the row, or what is known of the patient, does not say enough. */
export interface RowFigures {
  /** Undefined also where blocks were not picked over the whole drive. */
  readonly bound: UnreadableBound | undefined;
  /** Bytes a second, all passes together. */
  readonly bytesPerSecond: number | undefined;
  /** Minutes of going over the whole patient once at that pace. */
  readonly fullPassMinutes: number | undefined;
}

/** What the `verify` rows of an outcome come to, together and one by one. */
export interface VerifyFigures {
  readonly verified: Verified;
  /** That of the row with most blocks; undefined where none has one, or any row found errors. */
  readonly bound: UnreadableBound | undefined;
  /** At the pace of all comparing rows that took time. */
  readonly fullPassMinutes: number | undefined;
  readonly rows: readonly RowFigures[];
}

/** The figures of an outcome's verification. */
export function verifyFigures(outcome: OutcomeRecord, snapshot: Snapshot): VerifyFigures {
  const pair = pairOf(outcome, snapshot);
  const capacity = pair.patient && capacityBytes(capacityFactsOf(pair.patient));
  const rows = verifyRowsOf(outcome, pair);
  const usable = rows.map((row) => !isBeyondCapacity(row) && !hasUnusable(outcome, 'verify', row.position));
  const paces = rows.map(({ row }, position) => (usable[position] ? paceOf(row) : undefined));
  const figures = rows.map((row, position) => ({
    bound: usable[position] ? boundOf(row, pair) : undefined,
    bytesPerSecond: paces[position] && paces[position].bytes / (60 * paces[position].minutes),
    fullPassMinutes: minutesFor(capacity, paces[position]),
  }));
  const comparing = paces.filter((_, position) => rows[position] && isComparing(rows[position].row));
  return {
    verified: verifiedShare(outcome, capacity),
    bound: rows.some(({ row }) => (row.errors ?? 0) > 0) ? undefined : widest(figures),
    fullPassMinutes: minutesFor(capacity, together(comparing)),
    rows: figures,
  };
}

interface Pace {
  readonly bytes: number;
  readonly minutes: number;
}

function paceOf({ method, bytes, minutes }: VerifyRow['row']): Pace | undefined {
  if (method === 'mount_only' || !bytes || !minutes) return undefined;
  return { bytes, minutes };
}

function together(paces: readonly (Pace | undefined)[]): Pace {
  return paces.reduce<Pace>(
    (sum, pace) => ({ bytes: sum.bytes + (pace?.bytes ?? 0), minutes: sum.minutes + (pace?.minutes ?? 0) }),
    { bytes: 0, minutes: 0 },
  );
}

function minutesFor(capacity: number | undefined, pace: Pace | undefined): number | undefined {
  return capacity && pace ? fullPassMinutes(pace.bytes, pace.minutes, capacity) : undefined;
}

/**
 * Undefined unless the row read blocks picked over the whole drive, and says that there was no error. Each pass goes over the same
 * blocks, so they count once; and rows may have gone over the same ones, so nothing is added up across rows.
 */
function boundOf({ row }: VerifyRow, { patient }: PairContext): UnreadableBound | undefined {
  const { method, bytes, errors, passes = 1, where } = row;
  const isSample = where === 'whole' || where === 'spread';
  if (!isSample || method === 'mount_only' || bytes === undefined || errors !== 0) return undefined;
  const blockBytes = patient?.family?.data.sector_bytes?.physical ?? largeBlock;
  const blocks = Math.floor(bytes / passes / blockBytes);
  return blocks > 0 ? { blocks, blockBytes, share: unreadableShareBound(blocks) } : undefined;
}

/**
 * Bytes to a block where the family does not say. A drive corrects a physical sector as one piece, so the logical ones within it stand
 * or fall together; of the two common sizes the larger makes fewer blocks and never claims too much.
 */
const largeBlock = 4096;

function widest(rows: readonly RowFigures[]): UnreadableBound | undefined {
  return rows
    .flatMap(({ bound }) => bound ?? [])
    .reduce<UnreadableBound | undefined>(
      (best, bound) => (best && best.blocks >= bound.blocks ? best : bound),
      undefined,
    );
}
