import { spawnSync } from 'node:child_process';
import { chmodSync, cpSync, mkdirSync, mkdtempSync, readFileSync, realpathSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext {
    /** Path of the built command, in a folder that every user of the machine can read. */
    builtCommand: string;
    /** Folder for what commands remember, in place of the user's own. */
    cacheHome: string;
    version: string;
  }
}

const root = fileURLToPath(new URL('../../', import.meta.url));
let folder: string | undefined;

/** Builds the command before the first test, and copies it and all that belongs to it to where tests that run as another user reach it. */
export function setup(project: TestProject): void {
  const isWindows = process.platform === 'win32';
  const { status } = spawnSync('npm', ['run', '--silent', 'build'], { cwd: root, stdio: 'inherit', shell: isWindows });
  if (status !== 0) throw new Error('The command cannot be built.');
  const { bin, version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  folder = realpathSync(mkdtempSync(join(tmpdir(), 'swaplore-built-')));
  cpSync(join(root, dirname(bin.swaplore)), folder, { recursive: true });
  chmodSync(folder, 0o755);
  const cacheHome = join(folder, 'cache');
  mkdirSync(cacheHome);
  project.provide('builtCommand', join(folder, basename(bin.swaplore)));
  project.provide('cacheHome', cacheHome);
  project.provide('version', version);
}

/** Removes the copy. */
export function teardown(): void {
  if (folder !== undefined) rmSync(folder, { recursive: true });
}
