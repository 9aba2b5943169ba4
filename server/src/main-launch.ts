/**
 * What `swaplore` runs first: the command's bundle, with the code that V8 compiled the last time. Compiling takes longer than most
 * commands do. The compiled code lies in the user's cache folder under the build's id; V8 refuses what another version of it wrote.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { basename, join } from 'node:path';
import { Script } from 'node:vm';
import { findCacheFolder } from './host/cache-folder.ts';
import { writeAtomically } from './host/write-atomically.ts';

/** Set by the build: from package.json, and a digest of all that was bundled. */
declare const SWAPLORE_VERSION: string;
declare const SWAPLORE_BUILD: string;

const [, , command = ''] = process.argv;
if (command === '--version') process.stdout.write(`${SWAPLORE_VERSION}\n`);
else launch();

function launch(): void {
  const bundle = join(__dirname, 'main-cli.cjs');
  const folder = process.argv.includes('--no-cache') ? undefined : findCacheFolder(process.env, process.platform);
  // Each command finds the code that it runs, and no more.
  const name = `code-${process.version}-${process.arch}-${basename(command)}`;
  const compiled = folder && join(folder, SWAPLORE_BUILD, name);
  const cachedData = compiled === undefined ? undefined : readCompiled(compiled);
  // The build leaves nothing but ASCII in the bundle; read as such it is half the work.
  const source = `(function (exports, require, module, __filename, __dirname) {${readFileSync(bundle, 'latin1')}\n})`;
  const script = new Script(source, { filename: bundle, ...(cachedData ? { cachedData } : {}) });
  if (compiled !== undefined && (!cachedData || script.cachedDataRejected)) {
    process.on('exit', (code) => code < 2 && keepCompiled(script, compiled));
  }
  const module = { exports: {} };
  script.runInThisContext()(module.exports, createRequire(bundle), module, bundle, __dirname);
}

function readCompiled(path: string): Buffer | undefined {
  try {
    return readFileSync(path);
  } catch {
    return undefined;
  }
}

/** After the run, so that what it needed is in it. Where nothing can be kept, every run compiles. */
function keepCompiled(script: Script, path: string): void {
  try {
    writeAtomically(path, script.createCachedData());
  } catch {
    // A folder that cannot be written to is no reason to fail.
  }
}
