import { inThousands } from './in-thousands.ts';

const units = [
  ['MiB', 2 ** 20],
  ['KiB', 2 ** 10],
] as const;

/** A number of bytes in the largest binary unit it is a whole number of: `1 MiB`, `528 KiB`, `1,000 bytes`. */
export function binarySize(bytes: number): string {
  const unit = bytes > 0 ? units.find(([, size]) => bytes % size === 0) : undefined;
  if (unit) return `${inThousands(bytes / unit[1])} ${unit[0]}`;
  return `${inThousands(bytes)} ${bytes === 1 ? 'byte' : 'bytes'}`;
}
