import type { Dirent } from 'node:fs';
import { readdir, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { configPath } from '../core/checks/config-invalid.ts';

/** The nearest folder at or above `folder` that holds a config, or undefined. */
export async function findBaseAbove(folder: string): Promise<string | undefined> {
  for (let at = folder; ; at = dirname(at)) {
    if (await isFile(join(at, configPath))) return at;
    if (dirname(at) === at) return undefined;
  }
}

/** All folders at or below `folder` that hold a config, by path. Hidden folders, `node_modules` and links are not entered. */
export async function findBasesBelow(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { withFileTypes: true }).catch((): Dirent[] => []);
  const found = entries.some((entry) => entry.name === configPath && entry.isFile()) ? [folder] : [];
  for (const entry of entries.sort((a, b) => (a.name < b.name ? -1 : 1))) {
    const isSkipped = entry.name.startsWith('.') || entry.name === 'node_modules';
    if (entry.isDirectory() && !isSkipped) found.push(...(await findBasesBelow(join(folder, entry.name))));
  }
  return found;
}

async function isFile(path: string): Promise<boolean> {
  return stat(path).then(
    (found) => found.isFile(),
    () => false,
  );
}
