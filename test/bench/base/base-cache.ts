import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import type { Planted } from './faults.ts';
import { configText, generatorVersion, makeBase, type TextFile, toBaseFile, toTwinFiles } from './make-base.ts';
import { type Size, sizes } from './sizes.ts';

/** What tells one generated base from another. */
export interface BaseKey {
  readonly size: Size;
  readonly seed: string;
  /** How many faults to plant. The twin has none. */
  readonly faults: number;
}

/** A generated base on disk, and its twin. Files and bytes are those of records; the base has a config besides. */
export interface CachedBase {
  readonly folder: string;
  readonly files: number;
  readonly bytes: number;
  readonly planted: readonly Planted[];
  readonly twin: { readonly folder: string; readonly files: number; readonly bytes: number };
}

/** Where everything the bench writes lies. It may be deleted at any time. */
export const cacheFolder = join(tmpdir(), 'swaplore-bench');

/** The base of this key, made now unless an earlier run has left it. */
export function cachedBase(key: BaseKey): CachedBase {
  const folder = join(cacheFolder, `${key.size}-seed-${key.seed}-faults-${key.faults}-generator-${generatorVersion}`);
  const summary = join(folder, 'summary.json');
  if (!existsSync(summary)) writeBase(key, folder);
  return JSON.parse(readFileSync(summary, 'utf8')) as CachedBase;
}

/** Written aside and moved into place, so that a run cut short leaves no half base behind. */
function writeBase({ size, seed, faults }: BaseKey, folder: string): void {
  const unfinished = `${folder}.${process.pid}`;
  const { files, soundFiles, planted } = makeBase(sizes[size], seed, faults);
  const base = writeFiles(join(unfinished, 'base'), files.map(toBaseFile));
  writeFileSync(join(unfinished, 'base', 'swaplore.yaml'), configText);
  const twin = writeFiles(join(unfinished, 'twin'), soundFiles.flatMap(toTwinFiles));
  const summary: CachedBase = {
    folder: join(folder, 'base'),
    ...base,
    planted,
    twin: { folder: join(folder, 'twin'), ...twin },
  };
  writeFileSync(join(unfinished, 'summary.json'), JSON.stringify(summary));
  rmSync(folder, { recursive: true, force: true });
  renameSync(unfinished, folder);
}

function writeFiles(folder: string, files: readonly TextFile[]): { readonly files: number; readonly bytes: number } {
  const known = new Set<string>();
  let bytes = 0;
  for (const { path, text } of files) {
    const file = join(folder, path);
    if (!known.has(dirname(file))) mkdirSync(dirname(file), { recursive: true });
    known.add(dirname(file));
    writeFileSync(file, text);
    bytes += Buffer.byteLength(text);
  }
  return { files: files.length, bytes };
}
