import {
  chmodSync,
  chownSync,
  cpSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, inject, it } from 'vitest';
import { readFileFacts } from '../../server/src/core/model/file-facts.ts';
import { BaseCache } from '../../server/src/host/disk/base-cache.ts';
import { findCacheFolder, findConfigFolder, findStateFolder } from '../../server/src/host/disk/cache-folder.ts';
import { drained } from '../harness/drained.ts';
import { folderOf, runCommand, runInside } from '../harness/run-cli.ts';

const files = {
  'one/swaplore.yaml': 'swaplore: 1\n',
  'one/wren.yaml': 'kind: maker\nid: wren\nname: Wren\nnmae: Wren\n',
  'two/swaplore.yaml': 'swaplore: 1\n',
  'two/tern.yaml': 'kind: family\nid: tern-2\nmaker: wren\nname: Tern 2\nphotos: [{ file: gone.jpg }]\n',
};

/** All files below a folder, sorted. */
function filesIn(folder: string): string[] {
  const entries = readdirSync(folder, { withFileTypes: true, recursive: true });
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
}

describe('what is remembered', () => {
  it('in the place of something else counts as never kept', async () => {
    const folder = folderOf(files);
    const lint = async (build: string) => {
      const program = { version: '0.0.0', cacheFolder: join(folder, 'cache', build) };
      const runs = [];
      for (const args of [['one'], ['two'], ['one', '--check', 'unknown-key'], ['two', '--today', '2020-01-01']])
        runs.push(await runInside(folder, ['lint', '--format', 'json', ...args], {}, program));
      return runs;
    };
    const right = await lint('a');
    await lint('b');
    const kept = filesIn(join(folder, 'cache'));
    const contents = kept.map((path) => readFileSync(path));
    expect(kept.length).toBeGreaterThan(10);
    for (let by = 1; by < kept.length; by++) {
      for (const [at, path] of kept.entries()) writeFileSync(path, contents[(at + by) % kept.length] ?? '');
      expect(await lint('a'), `moved by ${by}`).toEqual(right);
    }
  });

  it.each([
    ['another base', 'two', 'a'],
    ['another build', 'one', 'b'],
  ])('of %s counts as never kept', (_, base, build) => {
    const folder = folderOf(files);
    const cacheOf = (root: string, by: string) =>
      BaseCache.of(join(folder, root), join(folder, 'cache', by)) as BaseCache;
    const [own, other] = [cacheOf('one', 'a'), cacheOf(base, build)];
    const facts = readFileFacts(Buffer.from(files['one/wren.yaml']));
    const stamp = [1, 2, 3, 4] as const;
    own.keepFacts(new Map([['f', facts]]));
    drained(own.writeStamps(new Map([['wren.yaml', { contentId: 'f', factsId: 'g', stamp, wanted: [] }]])));
    own.writeAttachments(new Map([['a.jpg', { stamp, need: 'presence', seen: { state: 'missing' } }]]));
    own.writeRun(['inputs'], 1, []);
    own.writeChecked({ options: ['day'], state: { configId: 'c', files: [], attachments: [] }, records: [] });
    const kept = (cache: BaseCache) => [
      drained(cache.readFacts()).size,
      drained(cache.readStamps()).size,
      cache.readAttachments().size,
      cache.findRun(['inputs'])?.records,
      cache.readChecked(['day'])?.state.configId,
    ];
    expect(kept(own)).toEqual([1, 1, 1, 1, 'c']);
    const [from = ''] = filesIn(join(folder, 'cache')).map(dirname);
    const places = readdirSync(join(folder, 'cache'), { recursive: true, encoding: 'utf8' })
      .filter((path) => dirname(path) === build)
      .map((path) => join(folder, 'cache', path));
    for (const place of places.filter((path) => path !== from)) cpSync(from, place, { recursive: true });
    expect(kept(other)).toEqual([0, 0, 0, undefined, undefined]);
  });

  it('as compiled code that is damaged is not run', () => {
    const folder = folderOf(files);
    const lint = () => runCommand(folder, ['lint', 'one'], { env: { XDG_CACHE_HOME: join(folder, 'cache') } });
    const right = lint();
    const [compiled = ''] = filesIn(join(folder, 'cache')).filter((path) => path.includes('code-'));
    const whole = readFileSync(compiled);
    for (const share of [0.02, 0.3, 0.7]) {
      const at = Math.floor(whole.length * share);
      writeFileSync(compiled, Buffer.concat([whole.subarray(0, at), Buffer.alloc(64, 0x5a), whole.subarray(at + 64)]));
      expect(lint(), `damaged at ${share}`).toEqual(right);
    }
  });
});

it('compiled code is made of ASCII, as which bundles are read', () => {
  const folder = dirname(inject('builtCommand'));
  for (const name of ['main-cli.cjs', 'main-lint.cjs', 'main-loader.cjs', 'main-lsp-node.cjs']) {
    const stranger = readFileSync(join(folder, name)).findIndex((byte) => byte > 0x7f);
    expect({ name, stranger }).toEqual({ name, stranger: -1 });
  }
});

describe.runIf(process.platform === 'linux')('folders for the user alone', () => {
  const finds = { cache: findCacheFolder, state: findStateFolder };
  const found = (kind: 'cache' | 'state', home: string) =>
    finds[kind]({ [`XDG_${kind.toUpperCase()}_HOME`]: home }, 'linux');

  it.each(['cache', 'state'] as const)('are made so, and used: %s', async (kind) => {
    const folder = folderOf(files);
    expect(found(kind, join(folder, 'home'))).toBe(join(folder, 'home', 'swaplore'));
    await runInside(folder, ['lint', 'one'], {}, { version: '0.0.0', cacheFolder: join(folder, 'home/swaplore/a') });
    const modes = [join(folder, 'home'), ...filesIn(join(folder, 'home'))].map((path) => statSync(path).mode & 0o077);
    expect(new Set(modes)).toEqual(new Set([0]));
  });

  it.each(['cache', 'state'] as const)('are not used where everybody may write: %s', (kind) => {
    const folder = folderOf({ 'home/swaplore/x': '', 'open/x': '' });
    chmodSync(join(folder, 'home/swaplore'), 0o777);
    expect(found(kind, join(folder, 'home'))).toBeUndefined();
    chmodSync(join(folder, 'open'), 0o777);
    expect(found(kind, join(folder, 'open'))).toBeUndefined();
    expect(found(kind, join(folder, 'open/below'))).toBeUndefined();
    symlinkSync(join(folder, 'open'), join(folder, 'link'));
    expect(found(kind, join(folder, 'link'))).toBeUndefined();
    mkdirSync(join(folder, 'open/own'));
    symlinkSync(join(folder, 'open/own'), join(folder, 'link-to-own'));
    expect(found(kind, join(folder, 'link-to-own'))).toBeUndefined();
    chmodSync(join(folder, 'open'), 0o1777);
    expect(found(kind, join(folder, 'open'))).toBe(join(folder, 'open', 'swaplore'));
  });

  it.each(['cache', 'state'] as const)('are not used where a link leads to what others bring in: %s', (kind) => {
    const folder = folderOf({ 'repository/.git/HEAD': '', 'repository/cache/x': '', 'home/x': '' });
    symlinkSync(join(folder, 'repository'), join(folder, 'home/swaplore'));
    expect(found(kind, join(folder, 'home'))).toBeUndefined();
    symlinkSync(join(folder, 'repository/cache'), join(folder, 'link'));
    expect(found(kind, join(folder, 'link'))).toBeUndefined();
  });

  it('are not used where they are of another user; settings may be', ({ skip }) => {
    if (process.getuid?.() !== 0) skip('only root gives files to others');
    const folder = folderOf({});
    mkdirSync(join(folder, 'home/swaplore'), { recursive: true });
    chownSync(join(folder, 'home/swaplore'), 65534, 65534);
    expect(found('cache', join(folder, 'home'))).toBeUndefined();
    expect(findConfigFolder({ XDG_CONFIG_HOME: join(folder, 'home') }, 'linux')).toBeDefined();
  });

  it('are not used where a group may write, save one of the user alone', ({ skip }) => {
    if (process.getuid?.() !== 0) skip('only root gives files to other groups');
    const folder = folderOf({ 'home/x': '' });
    chmodSync(join(folder, 'home'), 0o775);
    expect(found('cache', join(folder, 'home'))).toBe(join(folder, 'home', 'swaplore'));
    chownSync(join(folder, 'home'), 0, 65534);
    expect(found('cache', join(folder, 'home'))).toBeUndefined();
  });
});
