import { createHash } from 'node:crypto';
import { chmodSync, existsSync, readdirSync, readFileSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it, vi } from 'vitest';
import { folderOf, type Run, runCommand, runInside } from '../harness/run-cli.ts';
import { ternBench } from '../harness/tern-bench.ts';

const files = {
  'base/swaplore.yaml': 'swaplore: 1\n',
  'base/makers/wren.yaml': 'kind: maker\nid: wren\nname: Wren\n',
  'base/families/tern.yaml': 'kind: family\nid: tern-2\nmaker: wern\nname: Tern 2\n',
};

const program = { version: '0.0.0' };

/** All files below a folder. */
function filesIn(folder: string): string[] {
  if (!existsSync(folder)) return [];
  const entries = readdirSync(folder, { withFileTypes: true, recursive: true });
  return entries.filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name));
}

/** Lints the base of a folder with a cache of its own in that folder. */
function lintRemembering(folder: string, ...more: string[]): Run {
  const env = { XDG_CACHE_HOME: join(folder, 'cache') };
  return runCommand(folder, ['lint', 'base', '--format', 'json', '--stats', ...more], { env });
}

function parsedIn({ stderr }: Run): string | undefined {
  return /files parsed +(\d+)/.exec(stderr)?.[1];
}

it('keeps what it found outside the base, and finds the same with it', () => {
  const folder = folderOf(files);
  const first = lintRemembering(folder);
  expect(parsedIn(first)).toBe('2');
  expect(filesIn(join(folder, 'base'))).toHaveLength(3);
  expect(
    filesIn(join(folder, 'cache'))
      .map((path) => path.replace(/.*\//, '').replace(/-.*/, ''))
      .sort(),
  ).toEqual(['checked', 'code', 'facts', 'found', 'run', 'stamps']);
  expect(lintRemembering(folder)).toMatchObject({ stdout: first.stdout, code: first.code });
});

it('checks nothing again where only comments were edited, and finds everything where it stands now', () => {
  const folder = folderOf(files);
  const first = lintRemembering(folder);
  const family = join(folder, 'base/families/tern.yaml');
  writeFileSync(family, `# Seen again.\n\n${readFileSync(family, 'utf8')}`);
  const edited = lintRemembering(folder);
  expect(edited.stderr).toMatch(/check ms +0\.0\n/);
  expect(edited.stdout).toBe(lintRemembering(folder, '--no-cache').stdout);
  expect(edited.stdout).not.toBe(first.stdout);
  expect(lintRemembering(folder).stdout).toBe(edited.stdout);
});

it('pages are the same with what lint has found, and with what was found before an edit', async () => {
  const folder = folderOf({ ...ternBench, 'families/other.yaml': 'kind: family\nid: tern-3\nmaker: wern\n' });
  const cacheFolder = join(folderOf({}), 'build');
  const run = (args: readonly string[], remembering = true) =>
    runInside(folder, [...args, '--today', '2026-11-25'], {}, remembering ? { ...program, cacheFolder } : program);
  const pagesOf = async (remembering: boolean) => {
    const { stdout, code } = await run(['report', '--out', 'out'], remembering);
    return { stdout, code, pages: filesIn(join(folder, 'out')).map((path) => [path, readFileSync(path, 'utf8')]) };
  };
  const edit = (path: string, change: (text: string) => string) =>
    writeFileSync(join(folder, path), change(readFileSync(join(folder, path), 'utf8')));
  const edits = [
    () => run(['lint']),
    () => edit('families/other.yaml', (text) => `# Seen again.\n\n${text}`),
    () => edit('outcomes/moved.yaml', (text) => text.replace('chip_moved', 'left')),
    () => edit('outcomes/moved.yaml', (text) => text.replace('left', 'chip_moved')),
    () => writeFileSync(join(folder, 'makers/wern.yaml'), 'kind: maker\nid: wern\nname: Wern\n'),
  ];
  for (const next of edits) {
    await next();
    expect(await pagesOf(true)).toEqual(await pagesOf(false));
    expect((await run(['lint'])).stdout).toBe((await run(['lint'], false)).stdout);
  }
});

it('with --no-cache nothing is read or written', () => {
  const folder = folderOf(files);
  const first = lintRemembering(folder, '--no-cache');
  expect(filesIn(join(folder, 'cache'))).toEqual([]);
  lintRemembering(folder);
  for (const path of filesIn(join(folder, 'cache'))) writeFileSync(path, 'not what was kept');
  expect(lintRemembering(folder, '--no-cache')).toMatchObject({ stdout: first.stdout, code: first.code });
  for (const path of filesIn(join(folder, 'cache'))) expect(readFileSync(path, 'utf8')).toBe('not what was kept');
});

it('whatever is damaged or gone counts as never kept', () => {
  const folder = folderOf(files);
  const { stdout, code } = lintRemembering(folder);
  for (const harm of ['', 'x', '{}', '\u0000\u0000\u0000\u0000', `${'0'.repeat(64)}\n[]`]) {
    for (const path of filesIn(join(folder, 'cache'))) writeFileSync(path, harm);
    expect(lintRemembering(folder), harm).toMatchObject({
      stdout,
      code,
      stderr: expect.stringContaining('files parsed'),
    });
  }
});

it('a folder that cannot be written to costs nothing but time', () => {
  const folder = folderOf({ ...files, 'cache/none': '' });
  chmodSync(join(folder, 'cache'), 0o555);
  const env = { XDG_CACHE_HOME: join(folder, 'cache') };
  const run = runCommand(folder, ['lint', 'base', '--format', 'json'], {
    env,
    user: process.getuid?.() === 0 ? 65534 : undefined,
  });
  chmodSync(join(folder, 'cache'), 0o755);
  expect(run).toMatchObject({ stdout: lintRemembering(folder, '--no-cache').stdout, stderr: '', code: 1 });
});

it('a base around the cache folder has no cache', async () => {
  const folder = folderOf(files);
  const inside = join(folder, 'base', '.cache');
  await runInside(folder, ['lint', 'base'], {}, { ...program, cacheFolder: join(inside, 'build') });
  expect(filesIn(inside)).toEqual([]);
});

it.each(['.git/HEAD', 'swaplore.yaml'])(
  'a cache folder below %s, where a pull request could plant files, is left alone',
  (mark) => {
    const folder = folderOf({ ...files, [mark]: 'swaplore: 1\n' });
    expect(parsedIn(lintRemembering(folder))).toBeDefined();
    expect(filesIn(join(folder, 'cache'))).toEqual([]);
  },
);

it('another build finds nothing of what this one kept', async () => {
  const folder = folderOf(files);
  const lint = (build: string) =>
    runInside(folder, ['lint', 'base', '--stats'], {}, { ...program, cacheFolder: join(folder, 'cache', build) });
  await lint('a');
  const kept = filesIn(join(folder, 'cache', 'a'));
  expect(parsedIn(await lint('b'))).toBe('2');
  expect(filesIn(join(folder, 'cache', 'b'))).toHaveLength(kept.length);
});

it('--stats says how many files the slow reader had to read', async () => {
  const folder = folderOf({ ...files, 'base/makers/odd.yaml': 'kind: maker\nid: odd\nname: &n Odd\nnotes: *n\n' });
  const { stderr } = await runInside(folder, ['lint', 'base', '--stats']);
  expect(stderr).toMatch(/files parsed +3\n {2}by the slow reader +1 \(33\.3 %\)\n/);
});

it('notices that a file which records name came, changed or went', async () => {
  const sum = (text: string) => createHash('sha256').update(text).digest('hex');
  const drive = `kind: drive\nid: d-1\nfamily: tern-2\nphotos: [{file: a.jpg}]\nrom_image: {file: a.bin, sha256: ${sum('first')}}\n`;
  const folder = folderOf({ ...files, 'base/drives/d.yaml': drive, 'base/drives/a.bin': 'first' });
  const cacheFolder = join(folder, 'cache', 'build');
  const base = join(folder, 'base');
  const found = async () => {
    // As if all had lain there for an hour: what is younger than its file system's clock is fine is not recognised.
    vi.useFakeTimers({ now: Date.now() + 3_600_000, toFake: ['Date'] });
    const args = ['lint', 'base', '--format', 'json', '--today', '2026-11-25'];
    const warm = await runInside(folder, args, {}, { ...program, cacheFolder });
    const again = await runInside(folder, args, {}, { ...program, cacheFolder });
    const fresh = await runInside(folder, args, {}, program);
    vi.useRealTimers();
    expect(warm.stdout).toBe(fresh.stdout);
    expect(again.stdout).toBe(fresh.stdout);
    const { findings } = JSON.parse(fresh.stdout) as { findings: { check: string }[] };
    return findings.map(({ check }) => check).filter((check) => check.startsWith('capture-'));
  };
  await expect(found()).resolves.toEqual(['capture-missing']);
  writeFileSync(join(base, 'drives/a.jpg'), 'a picture');
  await expect(found()).resolves.toEqual([]);
  writeFileSync(join(base, 'drives/a.bin'), 'other');
  await expect(found()).resolves.toEqual(['capture-changed']);
  writeFileSync(join(base, 'drives/a.bin'), 'first');
  await expect(found()).resolves.toEqual([]);
  rmSync(join(base, 'drives/a.bin'));
  await expect(found()).resolves.toEqual(['capture-missing']);
});

it('does not read again a file which records name and that has the stamp it had', async () => {
  const drive = 'kind: drive\nid: d-1\nfamily: tern-2\nrom_image: {file: a.bin, sha256: SUM}\n';
  const sum = createHash('sha256').update('first').digest('hex');
  const folder = folderOf({
    ...files,
    'base/drives/d.yaml': drive.replace('SUM', sum),
    'base/drives/a.bin': 'first',
  });
  const cacheFolder = join(folder, 'cache', 'build');
  const lint = (now: number) => {
    vi.useFakeTimers({ now, toFake: ['Date'] });
    return runInside(folder, ['lint', 'base', '--stats'], {}, { ...program, cacheFolder }).finally(vi.useRealTimers);
  };
  const later = Date.now() + 3_600_000;
  const { stderr } = await lint(later);
  expect(stderr).toMatch(/other files named +1\n/);
  const [kept = ''] = filesIn(cacheFolder).filter((path) => path.endsWith('/attachments'));
  const [, rows = ''] = readFileSync(kept, 'utf8').split('\n');
  expect(JSON.parse(rows)).toMatchObject([['drives/a.bin', { need: 'sum', seen: { sha256: sum } }]]);
  // Nothing new is kept of what was recognised.
  const written = readFileSync(kept, 'utf8');
  utimesSync(kept, 0, 0);
  await lint(later);
  expect(readFileSync(kept, 'utf8')).toBe(written);
  expect(statSync(kept).mtimeMs).toBe(0);
});
