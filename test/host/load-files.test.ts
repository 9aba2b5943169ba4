import { availableParallelism } from 'node:os';
import { dirname, join } from 'node:path';
import { describe, expect, inject, it } from 'vitest';
import type { LoadedFile } from '../../server/src/host/disk/load-batch.ts';
import { loadFiles } from '../../server/src/host/disk/load-files.ts';
import { folderOf } from '../harness/run-cli.ts';

const many = 2500;
const files = Object.fromEntries(
  Array.from({ length: many }, (_, number) => [
    `m${number}.yaml`,
    `kind: maker\nid: m${number}\nname: Maker ${number}\n`,
  ]),
);
const paths = Object.keys(files);

/** The files as loaded, by path, and how many texts came along. */
async function load(root: string, loader: string | undefined, isPacked: boolean) {
  const loaded = new Map<string, LoadedFile>();
  const packed: string[] = [];
  let batches = 0;
  await loadFiles(root, [...paths, 'missing.yaml'], { loader, isPacked }, (batch, text) => {
    batches++;
    // Which batches are packed depends on who loaded them.
    for (const { factsId: _, ...file } of batch.files) loaded.set(file.path, file);
    if (text !== undefined) packed.push(text);
  });
  return { loaded, packed, batches };
}

describe('loading many files', () => {
  it('on all cores gives what one thread gives', async () => {
    const root = folderOf(files);
    const alone = await load(root, undefined, false);
    const together = await load(root, join(dirname(inject('builtCommand')), 'main-loader.cjs'), false);
    expect(alone.loaded.size).toBe(many + 1);
    expect(new Map([...together.loaded].sort())).toEqual(new Map([...alone.loaded].sort()));
    expect(alone.packed).toEqual([]);
    // Only what came from another thread is text already.
    if (availableParallelism() > 1) expect(together.packed.length).toBeGreaterThan(0);
  });

  it('gives every batch as text where that is asked for', async () => {
    const { packed, batches } = await load(folderOf(files), undefined, true);
    expect(packed).toHaveLength(batches);
    expect(packed.flatMap((text) => JSON.parse(text).ids)).toHaveLength(many + 1);
  });

  it('loses nothing to a thread that cannot start, or that dies over its work', async () => {
    const root = folderOf({
      ...files,
      'dies.cjs': "require('node:worker_threads').parentPort.on('message', () => process.exit(1));",
    });
    const alone = await load(root, undefined, false);
    for (const loader of ['no-such-program.cjs', 'dies.cjs']) {
      const { loaded } = await load(root, join(root, loader), false);
      expect(new Map([...loaded].sort()), loader).toEqual(new Map([...alone.loaded].sort()));
    }
  });
});
