import { execFileSync } from 'node:child_process';
import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { DiskHost } from '../../server/src/host/disk/disk-host.ts';
import { GitHost } from '../../server/src/host/git/git-host.ts';
import { readTree } from '../../server/src/host/git/read-tree.ts';
import { findRepository } from '../../server/src/host/git/repository.ts';
import { getCommit } from '../../server/src/host/git/revision.ts';
import { loadBase, loadConfig } from '../../server/src/host/load-base.ts';
import { type Commit, emptyFolder, git, gitOfTests, repositoryOf } from '../harness/git-repository.ts';

const maker = 'kind: maker\nid: wren\nname: Wren\n';
const config = 'swaplore: 1\n';

async function hostOf(folder: string, root = '', revision = 'main'): Promise<GitHost> {
  const repository = await findRepository(gitOfTests(), folder);
  return GitHost.of(repository, await readTree(repository, await getCommit(repository, revision)), root);
}

function oneCommit(puts: Commit['puts']): string {
  return repositoryOf([{ on: 'main', puts }]);
}

describe('files of a revision', () => {
  it('are those of the base on the disk, whatever they are called', async () => {
    const folder = oneCommit({
      'swaplore.yaml': config,
      'makers/wren.yaml': maker,
      'makers/new\nline\t"quoted" ä 的.yaml': maker.replace('wren', 'wren-2'),
      '.hidden/a.yaml': maker,
      'node_modules/a.yaml': maker,
      'notes.txt': 'x',
      'old/a.yml': maker,
      'old/deep/b.yaml': maker,
      'other/swaplore.yaml': config,
      'other/a.yaml': maker,
    });
    const disk = new DiskHost(folder);
    const host = await hostOf(folder);
    for (const ignore of [[], ['old/**'], ['**/*.yml']]) {
      const found = await host.list(ignore);
      const expected = await disk.list(ignore);
      expect({ ...found, paths: [...found.paths].sort() }).toEqual({ ...expected, paths: [...expected.paths].sort() });
      expect(found.paths.length).toBeGreaterThan(1);
      const read = await host.readMany(found.paths);
      const onDisk = await disk.readMany(found.paths);
      expect(read.map((file) => 'bytes' in file && [file.contentId, Buffer.from(file.bytes).toString()])).toEqual(
        onDisk.map((file) => 'bytes' in file && [file.contentId, Buffer.from(file.bytes).toString()]),
      );
    }
  });

  it('are named as unreadable where their names are not UTF-8', async () => {
    const host = await hostOf(oneCommit({ 'swaplore.yaml': config, 'a\\xff.yaml': maker, 'b.yaml': maker }));
    expect(await host.list([])).toEqual({
      paths: ['b.yaml'],
      unreadable: [{ path: 'a\ufffd.yaml', reason: 'its name is not UTF-8' }],
    });
  });

  it('give the base that the disk gives, with files that are no text or too large', async () => {
    const folder = oneCommit({
      'kb/swaplore.yaml': `${config}name: Harbour\n`,
      'kb/latin.yaml': Buffer.from('kind: maker\nid: wr\xe9n\n', 'latin1'),
      'kb/large.yaml': `${maker}notes: |\n${'  much\n'.repeat(200_000)}`,
      'kb/crlf.yaml': maker.replaceAll('\n', '\r\n'),
      'above.yaml': maker,
    });
    const host = await hostOf(folder, 'kb');
    const disk = new DiskHost(join(folder, 'kb'));
    const [found, expected] = [
      await loadBase(host, await loadConfig(host)),
      await loadBase(disk, await loadConfig(disk)),
    ];
    expect(found.config.name).toBe('Harbour');
    expect(new Map([...found.files.values()].map((file) => [file.path, file]))).toEqual(
      new Map([...expected.files.values()].map((file) => [file.path, file])),
    );
    expect(found.files.size).toBe(3);
  });

  it('are not read where they are huge', async () => {
    const folder = oneCommit({
      'swaplore.yaml': config,
      'a.yaml': Buffer.alloc(16_000_001, 0x23),
      'b.yaml': maker,
      'c.yaml': maker,
    });
    const host = await hostOf(folder);
    const read = await host.readMany(['a.yaml', 'b.yaml', 'gone.yaml', 'c.yaml']);
    expect(read.map((file) => ('bytes' in file ? file.bytes.length : file.reason))).toEqual([
      'it has 16,000,001 bytes, too many to be read',
      maker.length,
      'nothing is there',
      maker.length,
    ]);
  });
});

/** What can be at a path, each with what the disk says of it. */
const oddities: Commit['puts'] = {
  'swaplore.yaml': config,
  'real/wren.yaml': maker,
  'real/photo.jpg': 'a picture',
  'same.yaml': { link: 'real/wren.yaml' },
  'up.yaml': { link: '../../etc/passwd' },
  'absolute.yaml': { link: '/etc/passwd' },
  'hidden.yaml': { link: '.git/config' },
  'text.yaml': { link: 'real/photo.jpg' },
  folder: { link: 'real' },
  'round.yaml': { link: 'round.yaml' },
  'gone.yaml': { link: 'real/../nowhere.yaml' },
  'photo.jpg': { link: './folder/photo.jpg' },
  through: { link: 'folder/../real/photo.jpg' },
};

describe('links and other repositories', () => {
  it('are listed as on the disk', async () => {
    const folder = oneCommit(oddities);
    const byPath = (list: readonly { readonly path: string }[]) => [...list].sort((a, b) => (a.path < b.path ? -1 : 1));
    const expected = byPath((await new DiskHost(folder).list([])).unreadable);
    const found = byPath((await (await hostOf(folder)).list([])).unreadable);
    // A revision holds no folder of git's own, so that a link into it leads nowhere.
    const known = (path: string) => path !== 'hidden.yaml';
    expect(found.filter(({ path }) => known(path))).toEqual(expected.filter(({ path }) => known(path)));
    expect(found.length).toBeGreaterThan(6);
  });

  it('are followed to other files as on the disk, and never out of the base', async () => {
    const folder = oneCommit(oddities);
    const wanted = [...Object.keys(oddities), 'real', 'folder/photo.jpg', 'real/photo.jpg/x', 'nothing.jpg'].flatMap(
      (path) =>
        path === 'hidden.yaml' || path === 'round.yaml'
          ? []
          : (['presence', 'sum'] as const).map((need) => ({ path, need })),
    );
    const seen = await (await hostOf(folder)).lookAt(wanted);
    expect(seen).toEqual(await new DiskHost(folder).lookAt(wanted));
    expect(new Set(seen.map(({ state }) => state)).size).toBe(4);
  });

  it('are refused where the base lies in a folder below, though the revision holds what they lead to', async () => {
    const host = await hostOf(
      oneCommit({ 'kb/swaplore.yaml': config, 'kb/a.yaml': { link: '../b.yaml' }, 'b.yaml': maker }),
      'kb',
    );
    expect(await host.list([])).toEqual({
      paths: [],
      unreadable: [{ path: 'a.yaml', reason: 'it is a link that leads out of the base' }],
    });
    expect(await host.lookAt([{ path: 'a.yaml', need: 'sum' }])).toEqual([{ state: 'outside' }]);
  });

  it('submodules are named and not read', async () => {
    const id = '0123456789abcdef0123456789abcdef01234567';
    const host = await hostOf(
      oneCommit({ 'swaplore.yaml': config, lib: { submodule: id }, '.dot': { submodule: id } }),
    );
    const reason = 'it belongs to another repository (a submodule), which is not read';
    expect(await host.list([])).toEqual({ paths: [], unreadable: [{ path: 'lib', reason }] });
    expect(await host.list(['lib'])).toEqual({ paths: [], unreadable: [] });
    expect(await host.lookAt([{ path: 'lib/a.jpg', need: 'sum' }])).toEqual([{ state: 'unreadable', reason }]);
  });
});

describe('repositories', () => {
  const files = {
    'swaplore.yaml': config,
    'a.yaml': maker,
    'b.yaml': maker.replace('wren', 'b'),
    'c.yaml': maker.replace('wren', 'c'),
  };

  it('may be bare, or have their files elsewhere', async () => {
    const folder = oneCommit(files);
    const bare = join(emptyFolder(), 'bare.git');
    git(folder, 'clone', '--quiet', '--bare', folder, bare);
    const tree = join(emptyFolder(), 'tree');
    git(folder, 'worktree', 'add', '--quiet', '--detach', tree);
    for (const at of [bare, tree, join(tree, 'not/there/any/more'), join(folder, '.git')]) {
      expect((await (await hostOf(at)).list([])).paths, at).toEqual(['a.yaml', 'b.yaml', 'c.yaml']);
    }
  });

  it('may be clones that leave contents out, of which nothing is fetched', async () => {
    const folder = oneCommit(files);
    git(folder, 'config', 'uploadpack.allowFilter', 'true');
    const clone = join(emptyFolder(), 'clone');
    git(folder, 'clone', '--quiet', '--no-checkout', '--filter=blob:none', `file://${folder}`, clone);
    const host = await hostOf(clone);
    const { paths } = await host.list([]);
    const reason = 'it is not in this clone';
    expect(await host.readMany(paths)).toEqual(paths.map(() => ({ reason, isMissing: false })));
    expect(
      await host.lookAt([
        { path: 'a.yaml', need: 'presence' },
        { path: 'b.yaml', need: 'sum' },
      ]),
    ).toEqual([
      { state: 'present', contentId: '' },
      { state: 'unreadable', reason },
    ]);
  });

  it('may be damaged: what is whole is read', async () => {
    const folder = oneCommit(files);
    const host = await hostOf(folder);
    const id = git(folder, 'rev-parse', 'main:b.yaml');
    const pack = git(folder, 'rev-parse', '--git-path', 'objects');
    // Loose objects can be harmed one by one.
    const packs = execFileSync('find', [join(folder, pack), '-name', '*.pack'], { encoding: 'utf8' })
      .trim()
      .split('\n')
      .filter(Boolean);
    expect(packs.length, 'objects are loose').toBe(0);
    const object = join(folder, pack, id.slice(0, 2), id.slice(2));
    rmSync(object);
    writeFileSync(object, 'no object');
    const read = await host.readMany(['a.yaml', 'b.yaml', 'c.yaml', 'swaplore.yaml']);
    expect(read.map((file) => ('bytes' in file ? file.bytes.length : file.reason))).toEqual([
      files['a.yaml'].length,
      expect.stringMatching(/^it is not in this clone|^git cannot read it \(.+\)$/),
      files['c.yaml'].length,
      config.length,
    ]);
  });
});
