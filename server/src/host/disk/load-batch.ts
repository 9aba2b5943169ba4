import { createHash } from 'node:crypto';
import { type FileFacts, readFileFacts, unreadableFacts } from '../../core/model/file-facts.ts';
import { drained } from '../../core/terms/drained.ts';
import { type PackedFacts, toAscii } from './facts-pack.ts';
import { readDiskFile, type Stamp } from './read-disk-file.ts';

/** Files of a folder that are to be loaded, or contents that were read already. */
export type Work =
  | { readonly root: string; readonly paths: readonly string[] }
  | { readonly contents: readonly HeldContent[] };

/** A content with its id. */
export interface HeldContent {
  readonly id: string;
  readonly bytes: Uint8Array;
}

/** A file as loaded: what stands in it, and how it was recognised. Without a stamp it could not be read, or was held already. */
export interface LoadedFile {
  /** Of a content that was read already its id. */
  readonly path: string;
  readonly contentId: string;
  readonly facts: FileFacts;
  /** Where the facts were packed: equal for equal facts, whatever the bytes. */
  readonly factsId?: string;
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

/** Reads files, as far as they are not held, and takes down their facts, file by file (invariant 10). */
export function* loadBatch(work: Work): Generator<undefined, Batch> {
  let gaveUp = 0;
  const factsOf = (bytes: Uint8Array): FileFacts => readFileFacts(bytes, () => gaveUp++);
  const files: LoadedFile[] = [];
  if ('contents' in work) {
    for (const { id, bytes } of work.contents) {
      files.push({ path: id, contentId: id, facts: factsOf(bytes), stamp: undefined });
      yield;
    }
  } else {
    for (const path of work.paths) {
      const file = readDiskFile(work.root, path);
      if ('bytes' in file)
        files.push({ path, contentId: file.contentId, facts: factsOf(file.bytes), stamp: file.stamp });
      else files.push({ path, contentId: '', facts: unreadableFacts(file.reason), stamp: undefined });
      yield;
    }
  }
  return { files, gaveUp };
}

/** A batch in the form that crosses threads. */
export function packBatch({ files, gaveUp }: Batch): PackedBatch {
  const ids = JSON.stringify(files.map(({ contentId }) => contentId));
  const texts = files.map(({ facts }) => JSON.stringify(facts));
  return {
    files: files.map(({ path, contentId, stamp }, position) => {
      return { path, contentId, factsId: idOfText(texts[position] ?? ''), stamp };
    }),
    packed: toAscii(`{"ids":${ids},"facts":[${texts.join(',')}]}`),
    gaveUp,
  };
}

/** The id that packing gives facts. */
export function factsIdOf(facts: FileFacts): string {
  return idOfText(JSON.stringify(facts));
}

function idOfText(text: string): string {
  return createHash('sha1').update(text).digest('base64url');
}

/** Loads what another thread is to get. */
export function loadPacked(work: Work): PackedBatch {
  return packBatch(drained(loadBatch(work)));
}

/** The batch that was packed. */
export function unpackBatch({ files, packed, gaveUp }: PackedBatch): Batch {
  const { facts } = JSON.parse(packed) as PackedFacts;
  return { files: files.map((file, position) => ({ ...file, facts: facts[position] as FileFacts })), gaveUp };
}
