import { createHash } from 'node:crypto';
import { chmodSync, mkdirSync, symlinkSync, truncateSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { mostAttachmentBytes, type Need } from '../../server/src/core/captures/attachment.ts';
import { readCapture } from '../../server/src/core/captures/read-capture.ts';
import { sha256 } from '../../server/src/core/text/sha256.ts';
import { type ClientFiles, ClientStore } from '../../server/src/host/client-store.ts';
import { contentIdOf } from '../../server/src/host/content-id.ts';
import { DiskHost } from '../../server/src/host/disk/disk-host.ts';
import type { Host } from '../../server/src/host/host.ts';
import { loadBase, loadConfig } from '../../server/src/host/load-base.ts';
import { MemoryHost } from '../../server/src/host/memory.ts';
import { folderOf, runCommand } from '../harness/run-cli.ts';

const files = { 'captures/a.json': '{}\n', 'photos/b.jpg': 'a picture', 'roms/0117/c.bin': 'an image' };

/** A client that holds these files, and what it was asked to send. */
function lending(held: Readonly<Record<string, string>>, sent: string[] = []): ClientFiles {
  return {
    list: async () => Object.keys(held),
    read: async (_, paths) => {
      sent.push(...paths);
      return paths.map((path) => ({ base64: Buffer.from(held[path] ?? '').toString('base64') }));
    },
    sizes: async (_, paths) =>
      paths.map((path) => {
        const file = held[path];
        if (file !== undefined) return { bytes: Buffer.from(file).length };
        const isFolder = Object.keys(held).some((other) => other.startsWith(`${path}/`));
        return isFolder ? { reason: 'it is a folder', isMissing: false } : { reason: 'gone', isMissing: true };
      }),
  };
}

const hosts: Readonly<Record<string, () => Host>> = {
  'a disk': () => new DiskHost(folderOf(files)),
  memory: () => new MemoryHost(files),
  'a client': () => new ClientStore(lending(files)).open('mem:/shop'),
};

describe.each(Object.entries(hosts))('what %s says of files that records name', (_, hostOf) => {
  it.each<readonly [string, Need, object]>([
    ['captures/a.json', 'capture', { ...present('{}\n'), capture: readCapture(new TextEncoder().encode('{}\n')) }],
    ['captures/a.json', 'sum', present('{}\n')],
    ['photos/b.jpg', 'presence', { state: 'present', contentId: '' }],
    ['roms/0117', 'sum', { state: 'unreadable', reason: 'it is a folder' }],
    ['roms/0117', 'presence', { state: 'unreadable', reason: 'it is a folder' }],
    ['roms/0118.bin', 'sum', { state: 'missing' }],
    ['gone/at/all.jpg', 'presence', { state: 'missing' }],
  ])('%s for its %s', async (path, need, expected) => {
    await expect(hostOf().lookAt([{ path, need }])).resolves.toEqual([expected]);
  });

  it('comes in the order asked for', async () => {
    const wanted = [
      { path: 'gone.jpg', need: 'presence' },
      { path: 'roms/0117/c.bin', need: 'sum' },
      { path: 'photos/b.jpg', need: 'presence' },
    ] as const;
    const seen = await hostOf().lookAt(wanted);
    expect(seen.map(({ state }) => state)).toEqual(['missing', 'present', 'present']);
    await expect(hostOf().lookAt([])).resolves.toEqual([]);
  });
});

function present(text: string): object {
  const bytes = new TextEncoder().encode(text);
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  return { state: 'present', contentId: contentIdOf(bytes), sha256 };
}

it('makes the sums of the standard', () => {
  // Source: NIST, "SHA-256" example values: one block, two blocks, no message.
  const sums = ['abc', 'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq', ''].map((text) =>
    sha256(new TextEncoder().encode(text)),
  );
  expect(sums).toEqual([
    'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad',
    '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855',
  ]);
});

describe('on a disk', () => {
  const look = async (root: string, path: string, need: Need = 'sum') => {
    const [seen] = await new DiskHost(root).lookAt([{ path, need }]);
    return seen;
  };

  it('a link is followed inside the base, and never out of it', async () => {
    const folder = folderOf({ 'secret.json': '{}\n', 'base/captures/a.json': '{}\n', 'base/photos/b.jpg': '' });
    const root = join(folder, 'base');
    const links: Readonly<Record<string, string>> = {
      'out.json': '../secret.json',
      'in.json': 'captures/a.json',
      'out-folder': '..',
      'in-folder': 'captures',
      'absolute.json': join(folder, 'secret.json'),
      'nowhere.json': 'gone.json',
      'loop.json': 'loop.json',
      'captures/twice.json': '../out.json',
      'back.json': '../base/captures/a.json',
    };
    for (const [path, target] of Object.entries(links)) symlinkSync(target, join(root, path));
    const outside = { state: 'outside' };
    for (const need of ['presence', 'sum'] as const) {
      for (const path of ['out.json', 'out-folder/secret.json', 'absolute.json', 'captures/twice.json']) {
        await expect(look(root, path, need), path).resolves.toEqual(outside);
      }
    }
    for (const path of ['in.json', 'in-folder/a.json', 'back.json', 'out-folder/base/captures/a.json']) {
      await expect(look(root, path), path).resolves.toEqual(present('{}\n'));
    }
    await expect(look(root, 'nowhere.json')).resolves.toEqual({ state: 'missing' });
    await expect(look(root, 'loop.json')).resolves.toEqual({ state: 'unreadable', reason: 'it leads back to itself' });
  });

  it('a base that is reached by a link is looked at all the same', async () => {
    const folder = folderOf({ 'base/captures/a.json': '{}\n' });
    symlinkSync('base', join(folder, 'shop'));
    await expect(look(join(folder, 'shop'), 'captures/a.json')).resolves.toEqual(present('{}\n'));
  });

  it('a file above the limit is not read, and its presence is enough for a photo', async () => {
    const root = folderOf({ 'large.bin': '' });
    truncateSync(join(root, 'large.bin'), mostAttachmentBytes + 1);
    await expect(look(root, 'large.bin')).resolves.toEqual({ state: 'too-large', bytes: mostAttachmentBytes + 1 });
    await expect(look(root, 'large.bin', 'presence')).resolves.toEqual({ state: 'present', contentId: '' });
  });

  it('what may not be read says why', () => {
    const outcome = 'kind: drive\nid: d-1\nfamily: f\nrom_image: {file: a.bin, sha256: SUM}\n'.replace(
      'SUM',
      'ab'.repeat(32),
    );
    const root = folderOf({ 'swaplore.yaml': 'swaplore: 1\n', 'd.yaml': outcome, 'a.bin': 'image' });
    chmodSync(join(root, 'a.bin'), 0);
    const user = process.getuid?.() === 0 ? 65534 : undefined;
    const { stdout } = runCommand(root, ['lint', '--check', 'capture-missing'], { user });
    expect(stdout).toContain('`rom_image` names `a.bin`, but `a.bin` cannot be read: permission denied.');
  });

  it('what is no regular file is not opened', async () => {
    const root = folderOf({ 'a.txt': '' });
    mkdirSync(join(root, 'pictures'));
    await expect(look(root, 'pictures', 'presence')).resolves.toMatchObject({ state: 'unreadable' });
    await expect(look(root, 'a.txt/b.json')).resolves.toEqual({ state: 'missing' });
    await expect(look('/dev', 'null')).resolves.toEqual({ state: 'unreadable', reason: 'it is no regular file' });
  });
});

describe('a client that lends its files', () => {
  it('sends no picture, and nothing that is too large', async () => {
    const sent: string[] = [];
    const client = lending(files, sent);
    const sizes: ClientFiles['sizes'] = async (folder, paths) =>
      (await client.sizes(folder, paths)).map((size, at) =>
        paths[at] === 'roms/0117/c.bin' ? { bytes: mostAttachmentBytes + 1 } : size,
      );
    const base = new ClientStore({ ...client, sizes }).open('mem:/shop');
    const seen = await base.lookAt([
      { path: 'photos/b.jpg', need: 'presence' },
      { path: 'roms/0117/c.bin', need: 'sum' },
      { path: 'captures/a.json', need: 'capture' },
    ]);
    expect(seen.map(({ state }) => state)).toEqual(['present', 'too-large', 'present']);
    expect(sent).toEqual(['captures/a.json']);
  });

  it('is asked for large files one after the other', async () => {
    const held = Object.fromEntries(['a', 'b', 'c', 'd'].map((name) => [`${name}.bin`, name]));
    const asked: (readonly string[])[] = [];
    const base = new ClientStore({
      ...lending(held),
      sizes: async (_, paths) => paths.map(() => ({ bytes: mostAttachmentBytes / 2 })),
      read: async (_, paths) => {
        asked.push(paths);
        return paths.map(() => ({ base64: '' }));
      },
    }).open('mem:/shop');
    await base.lookAt(Object.keys(held).map((path) => ({ path, need: 'sum' })));
    expect(asked).toEqual([
      ['a.bin', 'b.bin'],
      ['c.bin', 'd.bin'],
    ]);
  });

  it('that leaves some out has said nothing of them', async () => {
    const base = new ClientStore({ ...lending({}), sizes: async () => [] }).open('mem:/shop');
    await expect(base.lookAt([{ path: 'a.bin', need: 'sum' }])).resolves.toEqual([
      { state: 'unreadable', reason: 'the editor did not send it' },
    ]);
  });
});

it('no path that leads out of the base is ever looked at', async () => {
  const asked: string[] = [];
  class Watched extends MemoryHost {
    override lookAt(wanted: Parameters<Host['lookAt']>[0]): ReturnType<Host['lookAt']> {
      asked.push(...wanted.map(({ path }) => path));
      return super.lookAt(wanted);
    }
  }
  const written = ['../../x', '/etc/passwd', 'C:/x', 'file:///x', 'a\\b', 'sub/..', './', '../in.jpg', 'sub/../b.jpg'];
  const photos = written.map((path) => `{file: ${JSON.stringify(path)}}`).join(', ');
  const host = new Watched({
    'swaplore.yaml': 'swaplore: 1\n',
    'drives/d.yaml': `kind: drive\nid: d-1\nfamily: f\nphotos: [${photos}]\n`,
  });
  await loadBase(host, await loadConfig(host));
  expect(asked.sort()).toEqual(['drives/b.jpg', 'in.jpg']);
});
