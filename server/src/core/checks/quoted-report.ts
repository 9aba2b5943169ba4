import { maskSerials } from '../captures/mask-serials.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { Report } from '../verdicts/identity-rows.ts';

/** A reported value as a finding may quote it: findings end up in logs that more people read than the records. */
export function quotedReport(
  { value, reported }: Pick<Report, 'value' | 'reported'>,
  { config }: Snapshot,
): string | number {
  if (value !== 'serial') return reported;
  return maskSerials({ serial: String(reported) }, config.serials).serial ?? '****';
}
