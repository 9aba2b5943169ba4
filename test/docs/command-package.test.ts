import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { projectRoot } from '../harness/source-files.ts';

it('npm packs the command with every program that it starts, and no sources', () => {
  const printed = execFileSync('npm', ['pack', '--dry-run', '--json'], { cwd: projectRoot, encoding: 'utf8' });
  const [packed] = JSON.parse(printed);
  const paths: readonly string[] = packed.files.map(({ path }: { path: string }) => path);
  const launcher = JSON.parse(readFileSync(`${projectRoot}package.json`, 'utf8')).bin.swaplore;
  const started = paths
    .filter((path) => path.endsWith('.cjs') && !path.includes('client'))
    .flatMap((path) => [
      ...readFileSync(projectRoot + path, 'utf8').matchAll(/\b(?:main-[a-z-]+\.cjs|sql-wasm\.wasm)\b/g),
    ])
    .map(([name]) => `dist/${name}`);
  expect(paths).toContain(launcher);
  expect(started).toEqual(expect.arrayContaining(['dist/main-cli.cjs', 'dist/main-export.cjs', 'dist/sql-wasm.wasm']));
  expect(started.filter((path) => !paths.includes(path))).toEqual([]);
  expect(paths.filter((path) => !/^(dist\/|LICENSE$|README\.md$|package\.json$)/.test(path))).toEqual([]);
});
