import { execFileSync } from 'node:child_process';
import { mkdtempSync, realpathSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';
import { projectRoot } from './source-files.ts';

/** The tarball that `npm pack` makes of the built command, removed after the file's tests. */
export function packedCommand(): string {
  const folder = realpathSync(mkdtempSync(join(tmpdir(), 'swaplore-packed-')));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const options = { cwd: projectRoot, encoding: 'utf8' } as const;
  const [packed] = JSON.parse(execFileSync('npm', ['pack', '--json', '--pack-destination', folder], options));
  return join(folder, packed.filename);
}

/**
 * What npm needs of the environment to keep to a folder: nothing outside is read or written, and no registry is asked, so that what is
 * installed has to do without one.
 */
export function npmWithin(folder: string): Readonly<Record<string, string>> {
  return {
    HOME: folder,
    npm_config_cache: join(folder, 'npm-cache'),
    npm_config_prefix: join(folder, 'npm-global'),
    npm_config_offline: 'true',
    PATH: `${join(folder, 'npm-global', 'bin')}:${process.env['PATH']}`,
  };
}
