import { rounded } from './rounded.ts';

/** A share, 0 to 1, in percent without decimals. Bounds are right to some ten digits: what lies that near to half a percent is rounded up like the half itself. */
export function wholePercent(share: number): string {
  return rounded(Number((100 * share).toFixed(8)), 0);
}
