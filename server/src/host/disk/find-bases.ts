import type { Dirent, Stats } from 'node:fs';
import { lstat, readdir } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { configPath } from '../../core/checks/config-invalid.ts';
import { codeOf, reasonOf } from '../system-reason.ts';

/** Why a folder cannot be looked into, in words; undefined where it can, and for a file, which lies in a folder that can. */
export async function whyClosed(folder: string): Promise<string | undefined> {
  return readdir(folder).then(
    () => undefined,
    (error: unknown) => (codeOf(error) === 'ENOTDIR' ? undefined : reasonOf(error)),
  );
}

/** The nearest folder at or above `folder` that holds a config, or undefined. */
export async function findBaseAbove(folder: string): Promise<string | undefined> {
  for (let at = folder; ; at = dirname(at)) {
    const found = await lstat(join(at, configPath)).catch(() => undefined);
    if (found && isFileOrLink(found)) return at;
    if (dirname(at) === at) return undefined;
  }
}

/** All folders at or below `folder` that hold a config, by path. Hidden folders, `node_modules` and links are not entered. */
export async function findBasesBelow(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { withFileTypes: true }).catch((): Dirent[] => []);
  const found = entries.some(isConfigEntry) ? [folder] : [];
  for (const entry of entries.sort((a, b) => (a.name < b.name ? -1 : 1))) {
    const isSkipped = entry.name.startsWith('.') || entry.name === 'node_modules';
    if (entry.isDirectory() && !isSkipped) found.push(...(await findBasesBelow(join(folder, entry.name))));
  }
  return found;
}

/** Whether an entry of a folder makes that folder a base. A link counts, so that it is reported instead of passed over. */
export function isConfigEntry(entry: Dirent): boolean {
  return entry.name === configPath && isFileOrLink(entry);
}

function isFileOrLink(entry: Dirent | Stats): boolean {
  return entry.isFile() || entry.isSymbolicLink();
}
