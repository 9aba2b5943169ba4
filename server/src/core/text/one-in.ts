import { inThousands } from './in-thousands.ts';

/** A small share above 0 as one in so many, two digits of them, rounded so that the share never looks smaller: `1 in 650,000,000`. */
export function oneIn(share: number): string {
  const many = 1 / share;
  const step = 10 ** (Math.floor(Math.log10(many)) - 1);
  const floored = Math.floor(many / step) * step;
  return `1 in ${inThousands(Number(floored.toPrecision(2)))}`;
}
