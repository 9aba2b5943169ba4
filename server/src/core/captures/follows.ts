/**
 * Which half of a drive a reported value belongs to, as the values before and after a swap show it.
 * Laws (test/property/follows.property.test.ts):
 * - platters and board exchanged, what followed the one follows the other
 * - a value that both halves report follows neither of them visibly
 * - what is not recorded decides nothing
 * - with less time between two looks, no counter stems from more halves
 */
import type { IdentityValue } from '../../../../schemas/gen/records.ts';
import { isSameSerial } from '../terms/same-serial.ts';
import { isSameWwn } from '../terms/wwn.ts';
import { foldText } from '../text/fold.ts';

/** What a traced value turned out to follow. */
export type Follows = 'platters' | 'board' | 'same_on_both' | 'neither' | 'not_known';

/** A capacity counted in bytes, for sectors of different sizes. */
interface Size {
  readonly bytes: number;
}

/** A value as reported; undefined where it was not. */
export type Reported = string | number | Size | undefined;

/** One value of one assembly, and the two drives it was made of as they reported it before. */
export interface Trace {
  readonly value: IdentityValue;
  readonly reported: Reported;
  /** Reported before by the drive that gave the platters. */
  readonly ofPlatters: Reported;
  /** Reported before by the drive that gave the board. */
  readonly ofBoard: Reported;
  /** Most hours that can lie between what was reported and what was before; where one is not known, those of any bench job. */
  readonly hoursSince?: { readonly platters?: number | undefined; readonly board?: number | undefined };
}

/** What a value follows. Masked serial numbers decide by unequal tails; by equal ones only where these have four characters. */
export function followsOf({ value, reported, ofPlatters, ofBoard, hoursSince = {} }: Trace): Follows {
  const platters = canStem(value, ofPlatters, reported, hoursSince.platters);
  const board = canStem(value, ofBoard, reported, hoursSince.board);
  if (platters === undefined || board === undefined) return 'not_known';
  if (platters && board) return hasShortTail(value, [reported, ofPlatters, ofBoard]) ? 'not_known' : 'same_on_both';
  if (platters) return 'platters';
  return board ? 'board' : 'neither';
}

/** Whether two reports of a value say the same; undefined where that cannot be seen. Counters are held against each other as they are. */
export function isSameReport(value: IdentityValue, a: Reported, b: Reported): boolean | undefined {
  if (a === undefined || b === undefined) return undefined;
  if (typeof a === 'string' && typeof b === 'string') {
    if (value === 'serial') return isSameSerial(a, b);
    return value === 'wwn' ? isSameWwn(a, b) : foldText(a) === foldText(b);
  }
  if (typeof a === 'string' || typeof b === 'string') return undefined;
  return value === 'capacity' ? isSameSize(a, b) : a === b;
}

/**
 * Hours that may lie between two looks at one drive where nobody knows when these were.
 * Source: common practice, no source; a month without a break covers any bench job.
 */
export const mostHoursBetween = 31 * 24;

/** Whether a value may be the one reported before, as time may have changed it. */
function canStem(
  value: IdentityValue,
  before: Reported,
  after: Reported,
  hours = mostHoursBetween,
): boolean | undefined {
  if (typeof before !== 'number' || typeof after !== 'number') return isSameReport(value, before, after);
  if (value === 'power_on_hours') return before <= after && after - before <= hours;
  // Defects only grow in number, and nobody can say by how much.
  return value === 'defect_counts' ? before <= after : isSameReport(value, before, after);
}

/** Counts may be of sectors of different sizes, of bytes or of GB; drives of one family are never so far apart. */
function isSameSize(a: number | Size, b: number | Size): boolean | undefined {
  if (typeof a === 'object' && typeof b === 'object') return a.bytes === b.bytes;
  if (typeof a === 'object' || typeof b === 'object') return undefined;
  if (a === b) return true;
  const ratio = Math.max(a, b) / Math.min(a, b);
  return ratio < 7 ? false : undefined;
}

function hasShortTail(value: IdentityValue, reports: readonly Reported[]): boolean {
  return value === 'serial' && reports.some((report) => /^\*{4}.{0,3}$/u.test(String(report).trim()));
}
