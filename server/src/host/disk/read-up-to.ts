import { readSync } from 'node:fs';

/** What an open file gives from where it stands, `most` bytes of it; fewer where it ends before. */
export function readUpTo(handle: number, most: number): Uint8Array {
  const bytes = new Uint8Array(most);
  let length = 0;
  while (length < most) {
    const read = readSync(handle, bytes, length, most - length, null);
    if (read === 0) break;
    length += read;
  }
  return bytes.subarray(0, length);
}
