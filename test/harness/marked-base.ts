import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { decodeText } from '../../server/src/core/text/decode.ts';

/** A base in a folder whose files carry expectation comments: text, or the bytes of what is no text, by path. */
export function readMarkedBase(folder: string): Record<string, string | Uint8Array> {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  return Object.fromEntries(
    files.map((entry) => {
      const path = join(entry.parentPath, entry.name);
      const bytes = readFileSync(path);
      const decoded = decodeText(bytes);
      return [relative(folder, path).split(sep).join('/'), 'text' in decoded ? decoded.text : bytes];
    }),
  );
}
