import { existsSync, readFileSync } from 'node:fs';
import { join, posix } from 'node:path';
import { expect, it } from 'vitest';
import { projectRoot } from '../harness/source-files.ts';

const read = (path: string) => readFileSync(join(projectRoot, path), 'utf8');
const manifest = JSON.parse(read('package.json'));
const lines = read('.vscodeignore').split('\n').filter(Boolean);
const packed = lines.filter((line) => line.startsWith('!')).map((line) => line.slice(1));

/** A folder's files are let through by `folder/*`. */
function isPacked(path: string): boolean {
  return packed.includes(path) || packed.includes(`${posix.dirname(path)}/*`);
}

it('packs nothing but what is named', () => {
  expect(lines[0]).toBe('**');
  for (const path of packed) expect(existsSync(join(projectRoot, path.replace('/*', ''))), path).toBe(true);
});

it('packs every file that the manifest names', () => {
  const media = JSON.stringify(manifest.contributes).match(/media\/[\w./-]+/g) ?? [];
  expect(media.length).toBeGreaterThan(0);
  const named = [manifest.main, manifest.browser, manifest.icon, ...media].map(posix.normalize);
  expect(named.filter((path) => !isPacked(path))).toEqual([]);
});

it('packs every program that the packed ones start', () => {
  const started = packed
    .filter((path) => path.startsWith('dist/'))
    .flatMap((path) => [...read(path).matchAll(/\bmain-[a-z-]+\.c?js\b/g)].map(([name]) => `dist/${name}`));
  expect(started).toContain('dist/main-lsp-node.cjs');
  expect(started.filter((path) => !isPacked(path))).toEqual([]);
});
