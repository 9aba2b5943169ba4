import { inThousands } from './in-thousands.ts';

/** A chance above 0 as one says it: `always`, `in 4 of 10 cases`, `once in 126`, `once in 650,000`; large numbers to two digits. */
export function onceIn(chance: number): string {
  if (chance > 0.95) return 'nearly always';
  if (chance > 0.15) return `in ${Math.round(10 * chance)} of 10 cases`;
  const many = 1 / chance;
  if (many < 1000) return `once in ${Math.round(many)}`;
  return many < 1e9 ? `once in ${inThousands(Number(many.toPrecision(2)))}` : 'less than once in a thousand million';
}
