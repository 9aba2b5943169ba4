/**
 * How much of a drive's content was compared, and whether without error.
 * Laws (test/property/verified-share.property.test.ts):
 * - the share is at least 0 and at most 1
 * - more passes over the same bytes never raise the share
 * - an error in a comparing row leaves no share
 */
import type { OutcomeData } from '../../../../schemas/gen/records.ts';
import { hasUnusable, type OutcomeRecord } from '../model/record.ts';

type VerifyRow = NonNullable<OutcomeData['verify']>[number];

/** What the `verify` rows of an outcome say together. */
export type Verified =
  /** No row compares content. */
  | { readonly state: 'nothing_compared' }
  /** A comparing row found errors; `row` is the first such one. */
  | { readonly state: 'errors'; readonly row: number }
  /** Share of the capacity compared, 0 to 1, and the bytes, each pass counted once. */
  | { readonly state: 'share'; readonly share: number; readonly bytes: number }
  /** A value it takes is not known. */
  | { readonly state: 'not_known' };

const comparingMethods: ReadonlySet<string | undefined> = new Set(['checksum_scrub', 'hash_compare', 'write_pass']);

/**
 * The share of `capacityBytes` whose content was compared: the sum over comparing rows of bytes ÷ passes, at most 1. An error in one of
 * them makes the whole unverified.
 */
export function verifiedShare(outcome: OutcomeRecord, capacityBytes: number | undefined): Verified {
  const rows = outcome.data.verify ?? [];
  const row = rows.findIndex((candidate) => isComparing(candidate) && (candidate.errors ?? 0) > 0);
  if (row >= 0) return { state: 'errors', row };
  if (hasUnusable(outcome, 'verify')) return { state: 'not_known' };
  const comparing = rows.filter(isComparing);
  if (comparing.length === 0) return { state: 'nothing_compared' };
  const bytes = comparing.map((one) => (one.bytes === undefined ? undefined : one.bytes / (one.passes ?? 1)));
  if (capacityBytes === undefined || bytes.includes(undefined)) return { state: 'not_known' };
  const compared = bytes.reduce<number>((sum, one) => sum + (one ?? 0), 0);
  return { state: 'share', share: Math.min(1, compared / capacityBytes), bytes: compared };
}

/** Whether a row compares content, and does not just read it. */
export function isComparing({ method }: VerifyRow): boolean {
  return comparingMethods.has(method);
}
