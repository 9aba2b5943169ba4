import { readdirSync } from 'node:fs';
import { join } from 'node:path';

/** The files of records in the folder named on the command line, and below it. */
export function filesOfArgument(): string[] {
  const [folder] = process.argv.slice(2);
  if (folder === undefined) throw new Error('A folder is needed.');
  return filesBelow(folder);
}

function filesBelow(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    return entry.isDirectory() ? filesBelow(path) : [path];
  });
}
