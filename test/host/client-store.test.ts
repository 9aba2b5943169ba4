import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { BaseReader, BaseStore } from '../../server/src/host/base-store.ts';
import { type ClientFiles, ClientStore, type SentFile, type SentSize } from '../../server/src/host/client-store.ts';
import { contentIdOf } from '../../server/src/host/content-id.ts';
import { DiskStore } from '../../server/src/host/disk/disk-store.ts';
import type { ReadFile } from '../../server/src/host/host.ts';
import { loadConfig } from '../../server/src/host/load-base.ts';
import { describeSnapshot } from '../harness/describe-snapshot.ts';
import { readMarkedBase } from '../harness/marked-base.ts';
import { folderOf } from '../harness/run-cli.ts';

/** Texts, bytes, or why a file cannot be read, by address. */
type Held = Readonly<Record<string, string | Uint8Array | { readonly reason: string }>>;

/** A client that holds these files, with what it was asked for. */
class Editor implements ClientFiles {
  readonly asked: string[][] = [];

  constructor(private readonly held: Held) {}

  list(folder: string): Promise<readonly string[]> {
    const below = Object.keys(this.held).filter((address) => address.startsWith(`${folder}/`));
    const paths = below.map((address) => address.slice(folder.length + 1));
    return Promise.resolve(paths.filter((path) => /\.ya?ml$/.test(path)));
  }

  read(folder: string, paths: readonly string[]): Promise<readonly SentFile[]> {
    const addresses = paths.map((path) => `${folder}/${path}`);
    this.asked.push(addresses);
    return Promise.resolve(addresses.map((address) => this.send(address)));
  }

  sizes(folder: string, paths: readonly string[]): Promise<readonly SentSize[]> {
    const sent = paths.map((path) => this.send(`${folder}/${path}`));
    return Promise.resolve(
      sent.map((file) => ('base64' in file ? { bytes: Buffer.from(file.base64, 'base64').length } : file)),
    );
  }

  private send(address: string): SentFile {
    const file = this.held[address];
    if (file === undefined) return { reason: 'nothing is there', isMissing: true };
    if (typeof file === 'object' && 'reason' in file) return { reason: file.reason, isMissing: false };
    return { base64: Buffer.from(file).toString('base64') };
  }
}

/** What a host gives for a file. */
function describeRead(file: ReadFile | undefined): string {
  if (!file) return 'nothing';
  return 'bytes' in file ? `${file.contentId} ${contentIdOf(file.bytes)}` : `${file.reason} ${file.isMissing}`;
}

/** The texts of files in a folder, by their paths below it. */
function textsBelow(files: Held, folder: string): Record<string, string> {
  const start = folder === '' ? '' : `${folder}/`;
  return Object.fromEntries(
    Object.entries(files).flatMap(([path, file]) =>
      path.startsWith(start) && typeof file === 'string' ? [[path.slice(start.length), file]] : [],
    ),
  );
}

const config = 'swaplore: 1\n';
const maker = 'kind: maker\nid: harbour\nname: Harbour\n';

function storeOf(held: Held): BaseStore {
  return new ClientStore(new Editor(held));
}

describe('the base around a folder', () => {
  const store = storeOf({
    'vfs://host/shop/swaplore.yaml': config,
    'vfs://host/shop/old/laptop/swaplore.yaml': config,
    'vfs://host/shop/old/laptop/drives/a.yaml': '',
  });

  it.each([
    ['vfs://host/shop', 'vfs://host/shop'],
    ['vfs://host/shop/old', 'vfs://host/shop'],
    ['vfs://host/shop/old/laptop', 'vfs://host/shop/old/laptop'],
    ['vfs://host/shop/old/laptop/drives/deep', 'vfs://host/shop/old/laptop'],
    ['vfs://host/other', undefined],
    ['vfs://other/shop', undefined],
  ])('of %s is in %s', async (folder, base) => {
    await expect(store.findAbove(folder)).resolves.toBe(base);
  });

  it('is looked for up to the top of the address, whether or not it names a host', async () => {
    const editor = new Editor({});
    await new ClientStore(editor).findAbove('vfs://host/a/b');
    await new ClientStore(editor).findAbove('mem:/a');
    expect(editor.asked.flat()).toEqual([
      'vfs://host/a/b/swaplore.yaml',
      'vfs://host/a/swaplore.yaml',
      'vfs://host/swaplore.yaml',
      'mem:/a/swaplore.yaml',
      'mem:/swaplore.yaml',
    ]);
  });

  it('may be the topmost folder', async () => {
    await expect(storeOf({ 'vfs://host/swaplore.yaml': config }).findAbove('vfs://host/a')).resolves.toBe('vfs://host');
  });
});

describe('files of a base', () => {
  const reader = (held: Held) => storeOf(held).open('mem:/shop');

  it('come as the bytes they are, text or not, with their content ids', async () => {
    const bytes = Uint8Array.from({ length: 256 }, (_, byte) => byte);
    const files = await reader({ 'mem:/shop/a.yaml': bytes, 'mem:/shop/b.yaml': '' }).readMany(['b.yaml', 'a.yaml']);
    const empty = new Uint8Array();
    expect(files).toEqual([
      { bytes: empty, contentId: contentIdOf(empty) },
      { bytes, contentId: contentIdOf(bytes) },
    ]);
  });

  it('that are missing are told from those that cannot be read', async () => {
    const held = { 'mem:/shop/locked.yaml': { reason: 'permission denied' } };
    await expect(reader(held).readMany(['locked.yaml', 'gone.yaml'])).resolves.toEqual([
      { reason: 'permission denied', isMissing: false },
      { reason: 'nothing is there', isMissing: true },
    ]);
  });

  it('that the client leaves out are none that are missing', async () => {
    const forgetful: ClientFiles = { list: async () => [], read: async () => [], sizes: async () => [] };
    const files = await new ClientStore(forgetful).open('mem:/shop').readMany(['a.yaml']);
    expect(files).toEqual([{ reason: 'the editor did not send it', isMissing: false }]);
  });

  it('that cannot be read are files of the base all the same', async () => {
    const base = reader({ 'mem:/shop/swaplore.yaml': config, 'mem:/shop/a.yaml': { reason: 'permission denied' } });
    const snapshot = await base.load(await loadConfig(base), () => undefined);
    expect(snapshot.files.get('a.yaml')).toMatchObject({ contentId: '' });
    expect(snapshot.mayMissIds).toBe(true);
  });

  it('are asked for in batches, none of them where there is nothing to ask for', async () => {
    const paths = Array.from({ length: 600 }, (_, number) => `mem:/shop/${number}.yaml`);
    const editor = new Editor(
      Object.fromEntries([['mem:/shop/swaplore.yaml', config], ...paths.map((path) => [path, maker])]),
    );
    const base = new ClientStore(editor).open('mem:/shop');
    await expect(base.readMany([])).resolves.toEqual([]);
    expect(editor.asked).toEqual([]);
    const shares: number[] = [];
    await base.load(await loadConfig(base), (share) => shares.push(share));
    expect(editor.asked.map(({ length }) => length)).toEqual([1, 256, 256, 88]);
    expect(editor.asked.slice(1).flat()).toEqual(paths);
    expect(shares).toEqual([256 / 600, 512 / 600, 1]);
  });
});

describe('a client and a disk that hold the same', () => {
  const bench: Readonly<Record<string, string | Uint8Array>> = {
    'swaplore.yaml': 'swaplore: 1\nignore: [drafts/, "*.old.yaml", drives/**/tmp-*.yml]\n',
    'makers.yaml': maker,
    'makers.old.yaml': 'kind: ',
    'latin.yml': Uint8Array.of(0x6e, 0xe4, 0x6d, 0x65),
    'notes.txt': 'a',
    'drafts/a.yaml': maker,
    'drafts/inner/swaplore.yaml': config,
    'drafts/inner/a.yaml': maker,
    'drives/2026/tmp-1.yml': maker,
    'drives/2026/shelf 2.yml': maker,
    'drives/ä.yaml': maker,
    'drives/swaplore.yaml/a.yaml': maker,
    'laptop/swaplore.yaml': config,
    'laptop/a.yaml': maker,
    'laptop/deep/swaplore.yaml': config,
    'laptop/deep/a.yaml': maker,
    'laptops/a.yaml': maker,
    'shelf/deep/swaplore.yaml': 'swaplore: none\n',
    'shelf/deep/a.yaml': maker,
    'shelf/a.yaml': maker,
    '.hidden/swaplore.yaml': config,
    '.hidden/a.yaml': maker,
    'node_modules/bench/swaplore.yaml': config,
    'node_modules/bench/a.yaml': maker,
    'shelf/.a.yaml': maker,
  };
  const sets = {
    'a bench of oddities': bench,
    'the demo base': readMarkedBase(new URL('../../knowledge', import.meta.url).pathname),
    'the bases of seeded faults': readMarkedBase(new URL('../fixtures/faults', import.meta.url).pathname),
  };

  /** Both stores over the same files, and the address they lie at. */
  function storesOf(files: typeof bench): {
    readonly root: string;
    readonly disk: BaseStore;
    readonly client: BaseStore;
  } {
    const root = pathToFileURL(folderOf(files)).href;
    const held = Object.fromEntries(Object.entries(files).map(([path, file]) => [`${root}/${path}`, file]));
    return { root, disk: new DiskStore({ cacheFolder: undefined, loader: undefined }), client: storeOf(held) };
  }

  /** All that can be asked of a base. */
  async function describeBase(base: BaseReader, texts: Readonly<Record<string, string>>) {
    const configFile = await loadConfig(base);
    const { paths, unreadable } = await base.list(configFile.reading.config.ignore);
    const files = await base.readMany(paths);
    const snapshot = await base.load(configFile, () => undefined);
    return {
      unreadable,
      files: Object.fromEntries(paths.map((path, position) => [path, describeRead(files[position])])),
      snapshot: describeSnapshot(snapshot, texts),
    };
  }

  it.each(Object.entries(sets))('give the same bases and the same snapshots: %s', async (_, files) => {
    const { root, disk, client } = storesOf(files);
    const roots = await disk.findBelow(root);
    expect(roots.length).toBeGreaterThan(0);
    expect([...(await client.findBelow(root))].sort()).toEqual([...roots].sort());
    for (const base of roots) {
      const texts = textsBelow(files, base.slice(root.length + 1));
      const expected = await describeBase(disk.open(base), texts);
      expect(await describeBase(client.open(base), texts)).toEqual(expected);
    }
  });
});
