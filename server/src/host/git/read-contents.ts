import { readDiskFile } from '../disk/read-disk-file.ts';
import { mostRecordBytes } from './git-host.ts';
import { readBlobs } from './read-blobs.ts';
import type { Repository } from './repository.ts';

/** A content of a file in the base. */
export interface WantedContent {
  readonly path: string;
  readonly contentId: string;
}

/** Where contents of files can be read again: out of the repository, and before that on the disk below `diskRoot`, if it is given. */
export interface Sources {
  readonly repository: Repository;
  readonly diskRoot: string | undefined;
}

/** Contents by their ids. What has none, or is there no more, is left out. */
export async function readContents(
  wanted: Iterable<WantedContent>,
  { repository, diskRoot }: Sources,
): Promise<ReadonlyMap<string, Uint8Array>> {
  const found = new Map<string, Uint8Array>();
  const missing = new Set<string>();
  for (const { path, contentId } of wanted) {
    if (contentId === '' || found.has(contentId)) continue;
    const onDisk = diskRoot === undefined ? undefined : readDiskFile(diskRoot, path);
    if (onDisk && 'bytes' in onDisk && onDisk.contentId === contentId) found.set(contentId, onDisk.bytes);
    else missing.add(contentId);
  }
  const ids = [...missing].filter((id) => !found.has(id));
  await readBlobs(repository, ids, mostRecordBytes, (blob) => {
    if ('bytes' in blob) found.set(blob.id, blob.bytes);
  });
  return found;
}
