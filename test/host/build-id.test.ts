import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));
const copy = mkdtempSync(join(tmpdir(), 'swaplore-build-'));
afterAll(() => rmSync(copy, { recursive: true }));

/** The build id of the sources with one text replaced, as it stands in the launcher. */
function buildId(path: string, from: string, to: string): string {
  for (const part of ['client', 'server', 'schemas', 'package.json'])
    cpSync(join(root, part), join(copy, part), { recursive: true, filter: isSource });
  const text = readFileSync(join(root, path), 'utf8');
  expect(text.includes(from), from).toBe(true);
  writeFileSync(join(copy, path), text.replace(from, to));
  const { status, stderr } = spawnSync(process.execPath, ['server/tools/build.mjs'], { cwd: copy, encoding: 'utf8' });
  expect(status, stderr).toBe(0);
  const launcher = readFileSync(join(copy, 'dist/swaplore.cjs'), 'utf8');
  return /"([0-9a-f]{22})"/.exec(launcher)?.[1] ?? 'none';
}

/** Whether a path is one of the sources; what is installed beside them goes into no build. */
function isSource(path: string): boolean {
  return !path.includes('node_modules', root.length);
}

it('another schema, another check or another version makes another build, which remembers nothing of this one', () => {
  symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'));
  const ids = [
    buildId('package.json', '"version"', '"version"'),
    buildId('package.json', '"version"', '"version"'),
    buildId('package.json', '"version": "', '"version": "9'),
    buildId('schemas/gen/validators.js', 'keyword:"pattern"', 'keyword:"form"'),
    buildId('server/src/core/checks/made-after-use.ts', "severity: 'error'", "severity: 'warning'"),
  ];
  expect(ids[0]).toMatch(/^[0-9a-f]{22}$/);
  expect(ids[1]).toBe(ids[0]);
  expect(new Set(ids).size).toBe(4);
});
