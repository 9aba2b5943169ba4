import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { Script } from 'node:vm';
import { writeAtomically } from './write-atomically.ts';

/**
 * Runs a bundle of the build with the code that V8 compiled the last time: compiling takes longer than most commands do. The
 * compiled code lies in `folder` under `name`; without a folder nothing is kept. V8 refuses what another version of it wrote.
 */
export function runCompiled(bundle: string, folder: string | undefined, name: string): void {
  const compiled = folder === undefined ? undefined : join(folder, `code-${process.version}-${process.arch}-${name}`);
  const cachedData = compiled === undefined ? undefined : readCompiled(compiled);
  // The build leaves nothing but ASCII in the bundle; read as such it is half the work.
  const source = `(function (exports, require, module, __filename, __dirname) {${readFileSync(bundle, 'latin1')}\n})`;
  const script = new Script(source, { filename: bundle, ...(cachedData ? { cachedData } : {}) });
  if (compiled !== undefined && (!cachedData || script.cachedDataRejected)) {
    process.on('exit', (code) => code < 2 && keepCompiled(script, compiled));
  }
  const module = { exports: {} };
  script.runInThisContext()(module.exports, createRequire(bundle), module, bundle, dirname(bundle));
}

const digestBytes = 20;

/** Compiled code behind its digest: V8 takes damaged code as it is, and may then run for ever. */
function readCompiled(path: string): Buffer | undefined {
  try {
    const stored = readFileSync(path);
    const code = stored.subarray(digestBytes);
    return digestOf(code).equals(stored.subarray(0, digestBytes)) ? code : undefined;
  } catch {
    return undefined;
  }
}

/** After the run, so that what it needed is in it. Where nothing can be kept, every run compiles. */
function keepCompiled(script: Script, path: string): void {
  try {
    const code = script.createCachedData();
    writeAtomically(path, Buffer.concat([digestOf(code), code]), 'own');
  } catch {
    // A folder that cannot be written to is no reason to fail.
  }
}

function digestOf(code: Uint8Array): Buffer {
  return createHash('sha1').update(code).digest();
}
