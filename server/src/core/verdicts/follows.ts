/**
 * Which half of a drive a reported value belongs to, as the values before and after a swap show it.
 * Laws (test/property/follows.property.test.ts):
 * - platters and board exchanged, what followed the one follows the other
 * - a value that both halves report follows neither of them visibly
 * - what is not recorded decides nothing
 */
import type { IdentityValue } from '../../../../schemas/gen/records.ts';
import type { Truth } from '../conditions/truth.ts';
import { isSameSerial } from '../terms/same-serial.ts';
import { isSameWwn } from '../terms/wwn.ts';
import { foldText } from '../text/fold.ts';

/** What a traced value turned out to follow. */
export type Follows = 'platters' | 'board' | 'same_on_both' | 'neither' | 'not_known';

/** A value as recorded; undefined where it is not. */
type Reported = string | number | undefined;

/** One value of one assembly, and the two drives it was made of as they reported it before. */
export interface Trace {
  readonly value: IdentityValue;
  readonly reported: Reported;
  /** Reported before by the drive that gave the platters. */
  readonly ofPlatters: Reported;
  /** Reported before by the drive that gave the board. */
  readonly ofBoard: Reported;
}

/** What a value follows. Masked serial numbers decide by unequal tails; by equal ones only where these have four characters. */
export function followsOf({ value, reported, ofPlatters, ofBoard }: Trace): Follows {
  const platters = canStem(value, ofPlatters, reported);
  const board = canStem(value, ofBoard, reported);
  if (platters === undefined || board === undefined) return 'not_known';
  if (platters && board) return hasShortTail(value, [reported, ofPlatters, ofBoard]) ? 'not_known' : 'same_on_both';
  if (platters) return 'platters';
  return board ? 'board' : 'neither';
}

/**
 * Hours that may lie between two looks at one drive in one row.
 * Source: common practice, no source; a month without a break covers any bench job.
 */
const mostHoursBetween = 31 * 24;

/** Whether a value may be the one reported before, as time may have changed it. */
function canStem(value: IdentityValue, before: Reported, after: Reported): Truth {
  if (before === undefined || after === undefined) return undefined;
  if (typeof before === 'string' && typeof after === 'string') {
    if (value === 'serial') return isSameSerial(before, after);
    return value === 'wwn' ? isSameWwn(before, after) : foldText(before) === foldText(after);
  }
  if (typeof before !== 'number' || typeof after !== 'number') return undefined;
  if (value === 'power_on_hours') return before <= after && after - before <= mostHoursBetween;
  // Defects only grow in number, and nobody can say by how much.
  if (value === 'defect_counts') return before <= after;
  return isSameSize(before, after);
}

/** Sizes may be counted in sectors of different sizes, in bytes or in GB; drives of one family are never so far apart. */
function isSameSize(before: number, after: number): Truth {
  if (before === after) return true;
  const ratio = Math.max(before, after) / Math.min(before, after);
  return ratio < 7 ? false : undefined;
}

function hasShortTail(value: IdentityValue, reports: readonly Reported[]): boolean {
  return value === 'serial' && reports.some((report) => /^\*{4}.{0,3}$/u.test(String(report).trim()));
}
