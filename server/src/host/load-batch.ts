import { type FileFacts, readFileFacts, unreadableFacts } from '../core/model/file-facts.ts';
import type { PackedFacts } from './facts-pack.ts';
import { readDiskFile, type Stamp } from './read-disk-file.ts';

/** A file as loaded: what stands in it, and how it was recognised. Without a stamp it could not be read. */
export interface LoadedFile {
  readonly path: string;
  readonly contentId: string;
  readonly facts: FileFacts;
  readonly stamp: Stamp | undefined;
}

/** A loaded batch as one thread hands it to another: the facts as text, which travels as a whole and is what the cache keeps. */
export interface PackedBatch {
  readonly files: readonly Omit<LoadedFile, 'facts'>[];
  /** `PackedFacts` as JSON; its lists run along `files`. */
  readonly packed: string;
  readonly gaveUp: number;
}

/** Files loaded together, with the number that the fast reader gave up on. */
export interface Batch {
  readonly files: readonly LoadedFile[];
  readonly gaveUp: number;
}

/** Reads files and takes down their facts. */
export function loadBatch(root: string, paths: readonly string[]): Batch {
  let gaveUp = 0;
  const files = paths.map((path): LoadedFile => {
    const file = readDiskFile(root, path);
    if (!('bytes' in file)) return { path, contentId: '', facts: unreadableFacts(file.reason), stamp: undefined };
    const facts = readFileFacts(file.bytes, () => gaveUp++);
    return { path, contentId: file.contentId, facts, stamp: file.stamp };
  });
  return { files, gaveUp };
}

/** A batch in the form that crosses threads. */
export function packBatch({ files, gaveUp }: Batch): PackedBatch {
  const packed: PackedFacts = { ids: files.map(({ contentId }) => contentId), facts: files.map(({ facts }) => facts) };
  return {
    files: files.map(({ path, contentId, stamp }) => ({ path, contentId, stamp })),
    packed: JSON.stringify(packed),
    gaveUp,
  };
}

/** The batch that was packed. */
export function unpackBatch({ files, packed, gaveUp }: PackedBatch): Batch {
  const { facts } = JSON.parse(packed) as PackedFacts;
  return { files: files.map((file, position) => ({ ...file, facts: facts[position] ?? unreadableFacts('') })), gaveUp };
}
