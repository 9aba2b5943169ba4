/**
 * Other files of one base on a disk that records name.
 * Invariant 8: no link is followed out. A link that stays in the base is: shops file their pictures in many ways.
 */
import { lstatSync, realpathSync, type Stats, statSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import type { Attachment, WantedFile } from '../../core/captures/attachment.ts';
import { attachmentOf, unread } from '../attachment-of.ts';
import { codeOf, reasonOf } from '../system-reason.ts';
import { isInside } from './is-inside.ts';
import { readDiskFile, type Stamp, toStamp } from './read-disk-file.ts';

/** What was seen at a path, with the stamp that the file had if its bytes say so. */
export interface SeenFile {
  readonly seen: Attachment;
  readonly stamp: Stamp | undefined;
}

/** Where a path really leads, or what there is to say instead. */
type Located = { readonly real: string; readonly stats: Stats } | { readonly seen: Attachment };

/** Looks at files of one base. Made for one round of looking: it keeps where folders really lie. */
export class DiskAttachments {
  private readonly folders = new Map<string, string | Attachment>();
  private readonly realRoot: string;

  constructor(private readonly root: string) {
    this.realRoot = realRootOf(root);
  }

  /** What is at a path. `recall` may know it of a file with this stamp, which is not read then. */
  look({ path, need }: WantedFile, recall: (stamp: Stamp) => Attachment | undefined = () => undefined): SeenFile {
    const located = this.locate(path);
    if ('seen' in located) return { seen: located.seen, stamp: undefined };
    const { real, stats } = located;
    const bySize = unread(need, stats.size);
    if (bySize) return { seen: bySize, stamp: undefined };
    const stamp = toStamp(stats);
    return { seen: recall(stamp) ?? attachmentOf(need, this.read(real)), stamp };
  }

  private locate(path: string): Located {
    const folder = this.realFolderOf(dirname(path));
    if (typeof folder !== 'string') return { seen: folder };
    try {
      let real = join(folder, path.slice(path.lastIndexOf('/') + 1));
      let stats = lstatSync(real);
      if (stats.isSymbolicLink()) {
        real = realpathSync(real);
        if (!isInside(this.realRoot, real)) return { seen: outside };
        stats = statSync(real);
      }
      if (stats.isFile()) return { real, stats };
      return { seen: unreadable(stats.isDirectory() ? 'it is a folder' : 'it is no regular file') };
    } catch (error) {
      return { seen: failed(error) };
    }
  }

  /** The real path of a folder in the base, or why it has none there. */
  private realFolderOf(folder: string): string | Attachment {
    let found = this.folders.get(folder);
    if (found === undefined) {
      try {
        const real = realpathSync(join(this.root, folder));
        found = isInside(this.realRoot, real) ? real : outside;
      } catch (error) {
        found = failed(error);
      }
      this.folders.set(folder, found);
    }
    return found;
  }

  private read(real: string): ReturnType<typeof readDiskFile> {
    return readDiskFile(this.realRoot, relative(this.realRoot, real).split(sep).join('/'));
  }
}

/** The folder itself where it is there no more: then all else in it is missing as well. */
function realRootOf(root: string): string {
  try {
    return realpathSync(root);
  } catch {
    return root;
  }
}

const outside: Attachment = { state: 'outside' };

function unreadable(reason: string): Attachment {
  return { state: 'unreadable', reason };
}

function failed(error: unknown): Attachment {
  return ['ENOENT', 'ENOTDIR'].includes(codeOf(error)) ? { state: 'missing' } : unreadable(reasonOf(error));
}
