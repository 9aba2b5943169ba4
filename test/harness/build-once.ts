import { spawnSync } from 'node:child_process';
import { chmodSync, copyFileSync, mkdtempSync, readFileSync, realpathSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext {
    /** Path of the built command, in a folder that every user of the machine can read. */
    builtCommand: string;
    version: string;
  }
}

const root = fileURLToPath(new URL('../../', import.meta.url));
let folder: string | undefined;

/** Builds the command before the first test, and copies it to where tests that run as another user reach it. */
export function setup(project: TestProject): void {
  const isWindows = process.platform === 'win32';
  const { status } = spawnSync('npm', ['run', '--silent', 'build'], { cwd: root, stdio: 'inherit', shell: isWindows });
  if (status !== 0) throw new Error('The command cannot be built.');
  const { bin, version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  folder = realpathSync(mkdtempSync(join(tmpdir(), 'swaplore-built-')));
  const command = join(folder, 'swaplore.mjs');
  copyFileSync(join(root, bin.swaplore), command);
  chmodSync(folder, 0o755);
  chmodSync(command, 0o755);
  project.provide('builtCommand', command);
  project.provide('version', version);
}

/** Removes the copy. */
export function teardown(): void {
  if (folder !== undefined) rmSync(folder, { recursive: true });
}
