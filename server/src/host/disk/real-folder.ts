import { realpath } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';

/** A folder as the disk knows it, whatever links lead to it and whether or not it is there yet. */
export async function realFolder(folder: string): Promise<string> {
  return realpath(folder).catch(async () =>
    dirname(folder) === folder ? folder : join(await realFolder(dirname(folder)), basename(folder)),
  );
}
