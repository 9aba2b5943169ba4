import { binarySize } from '../text/binary-size.ts';

/**
 * `usual`: a power of two from 64 KiB to 16 MiB, as the serial flash on boards of drives has. `unusual`: any other power of two. `paged`:
 * one of those with pages of 264 or 528 bytes (from memory of data sheets). `odd`: of no chip. `empty`: no byte at all.
 */
export type SizeKind = 'usual' | 'unusual' | 'paged' | 'odd' | 'empty';

/** Most bytes of an image that is read. Source: four times the largest usual chip; more than that is no ROM. */
export const mostImageBytes = 64 * 2 ** 20;

/** What is wrong with a file of more bytes than that. */
export function tooLargeForRom(name: string, bytes: number): string {
  return `${name} holds ${binarySize(bytes)}, but an image of a ROM holds ${binarySize(mostImageBytes)} at most.`;
}

/** What is wrong with one file that stands for two reads. */
export function isOneRead(name: string): string {
  return `${name} is given twice, and an image compared with itself shows nothing.`;
}

const [leastUsual, mostUsual] = [2 ** 16, 2 ** 24];

/** Whether a chip can have this many bytes. Source of the usual sizes: common practice, no source. */
export function sizeKind(bytes: number): SizeKind {
  if (bytes === 0) return 'empty';
  if (isPowerOfTwo(bytes)) return bytes >= leastUsual && bytes <= mostUsual ? 'usual' : 'unusual';
  return bytes % 33 === 0 && isPowerOfTwo(bytes / 33) && bytes >= leastUsual ? 'paged' : 'odd';
}

function isPowerOfTwo(count: number): boolean {
  return Number.isInteger(Math.log2(count));
}
