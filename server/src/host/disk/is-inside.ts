import { isAbsolute, relative, sep } from 'node:path';

/** Whether a real path is a real folder or lies in it. */
export function isInside(folder: string, path: string): boolean {
  const inside = relative(folder, path);
  return !isAbsolute(inside) && inside !== '..' && !inside.startsWith(`..${sep}`);
}
