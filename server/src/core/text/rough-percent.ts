import { rounded } from './rounded.ts';
import { wholePercent } from './whole-percent.ts';

/** A share, 0 to 1, in percent as one says it: whole, but with one digit where less than 1 % is left on either side: `0.6`, `99.4`. */
export function roughPercent(share: number): string {
  const percent = 100 * share;
  const left = Math.min(percent, 100 - percent);
  if (left <= 0 || left >= 1) return wholePercent(share);
  const decimals = Math.min(4, Math.ceil(-Math.log10(left)));
  return rounded(percent, decimals);
}
