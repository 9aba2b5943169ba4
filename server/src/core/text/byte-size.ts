import { inThousands } from './in-thousands.ts';

const units = [
  ['TB', 1e12],
  ['GB', 1e9],
  ['MB', 1e6],
] as const;

/** A number of bytes in decimal units, five digits at most: `2.0004 TB`, `125.03 GB`, `512 bytes`. */
export function byteSize(bytes: number): string {
  const unit = units.find(([, size]) => bytes >= size);
  return unit ? `${Number((bytes / unit[1]).toPrecision(5))} ${unit[0]}` : `${inThousands(bytes)} bytes`;
}
