import { realpathSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';

/** The real path of a folder that may not exist yet. */
export function realPath(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    return dirname(path) === path ? path : join(realPath(dirname(path)), relative(dirname(path), path));
  }
}
