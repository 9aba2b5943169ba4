import { join } from 'node:path';
import { findCacheFolder, findStateFolder } from '../host/disk/cache-folder.ts';
import { findSerialKey } from '../host/disk/find-serial-key.ts';
import { runCompiled } from '../host/disk/run-compiled.ts';
import { findGit } from '../host/git/find-git.ts';
import type { Command } from './command.ts';
import { runCommandLine } from './run-command-line.ts';

/** Set by the build: from package.json, and a digest of all that was bundled. */
declare const SWAPLORE_VERSION: string;
declare const SWAPLORE_BUILD: string;

/** Runs the command line of this process by one of these commands. */
export function startCli(commands: readonly Command[]): void {
  const { stdin, stdout, stderr, env, platform } = process;
  const caches = findCacheFolder(env, platform);
  const cacheFolder = caches && join(caches, SWAPLORE_BUILD);

  stdout.on('error', (error: NodeJS.ErrnoException) => {
    // A reader that has seen enough, such as `head`, is no failure.
    if (error.code === 'EPIPE') return;
    stderr.write(`swaplore: The output cannot be written: ${error.message}.\n`);
    process.exit(2);
  });

  void runCommandLine(
    commands,
    process.argv.slice(2),
    {
      out: (text) => stdout.write(text),
      err: (text) => stderr.write(text),
      cwd: process.cwd(),
      columns: stdout.isTTY ? Math.max(40, stdout.columns || 80) : 80,
      hasColour: stdout.isTTY && !env['NO_COLOR'],
      canAsk: stdin.isTTY && stdout.isTTY,
    },
    {
      version: SWAPLORE_VERSION,
      cacheFolder,
      stateFolder: findStateFolder(env, platform),
      drives:
        platform === 'linux'
          ? { root: '/', path: env['PATH'] ?? '', isRoot: process.getuid?.() === 0, patienceMs: 30_000 }
          : undefined,
      findSerialKey: () => findSerialKey(env, platform),
      findGit: () => findGit(env, platform),
      loader: join(__dirname, 'main-loader.cjs'),
      loadFormats: () => require(join(__dirname, 'main-export.cjs')).formats,
      serveOverStdio: () => runCompiled(join(__dirname, 'main-lsp-node.cjs'), cacheFolder, 'server'),
    },
  ).then((code) => {
    process.exitCode = code;
  });
}
