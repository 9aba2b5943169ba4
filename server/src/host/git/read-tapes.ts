import type { Place } from '../../core/checks/finding.ts';
import { readText } from '../../core/syntax/read-text.ts';
import type { Tape } from '../../core/syntax/tape.ts';
import { decodeText } from '../../core/text/decode.ts';
import { readDiskFile } from '../disk/read-disk-file.ts';
import { mostRecordBytes } from './git-host.ts';
import { readBlobs } from './read-blobs.ts';
import type { Repository } from './repository.ts';

/**
 * The tapes of the files that places of one snapshot are in, by path. What the disk holds no more under `diskRoot`, if it is given,
 * comes out of the repository; what neither has is left out.
 */
export async function readTapes(
  places: readonly Place[],
  repository: Repository,
  diskRoot: string | undefined,
): Promise<ReadonlyMap<string, Tape>> {
  const tapes = new Map<string, Tape>();
  const wanted = new Map<string, string[]>();
  for (const [path, id] of new Map(places.map(({ file, contentId }) => [file, contentId]))) {
    if (id === '') continue;
    const onDisk = diskRoot === undefined ? undefined : readDiskFile(diskRoot, path);
    if (onDisk && 'bytes' in onDisk && onDisk.contentId === id) put(tapes, path, onDisk.bytes);
    else wanted.set(id, [...(wanted.get(id) ?? []), path]);
  }
  await readBlobs(repository, [...wanted.keys()], mostRecordBytes, (blob) => {
    if ('bytes' in blob) for (const path of wanted.get(blob.id) ?? []) put(tapes, path, blob.bytes);
  });
  return tapes;
}

function put(tapes: Map<string, Tape>, path: string, bytes: Uint8Array): void {
  const decoded = decodeText(bytes);
  if ('text' in decoded) tapes.set(path, readText(decoded.text).tape);
}
