/** What `swaplore` runs first: the version is told at once, all else is the command's bundle. */
import { basename, join } from 'node:path';
import { findCacheFolder } from './host/disk/cache-folder.ts';
import { runCompiled } from './host/disk/run-compiled.ts';

/** Set by the build: from package.json, and a digest of all that was bundled. */
declare const SWAPLORE_VERSION: string;
declare const SWAPLORE_BUILD: string;

const [, , command = ''] = process.argv;
if (command === '--version') process.stdout.write(`${SWAPLORE_VERSION}\n`);
else {
  const folder = process.argv.includes('--no-cache') ? undefined : findCacheFolder(process.env, process.platform);
  const bundle = command === 'lint' ? 'main-lint.cjs' : 'main-cli.cjs';
  // Each command finds the code that it runs, and no more.
  runCompiled(join(__dirname, bundle), folder && join(folder, SWAPLORE_BUILD), basename(command));
}
