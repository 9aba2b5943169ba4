/**
 * The files of a base as they stand in one revision. Nothing outside the repository is read and no link is followed out of the base
 * (invariant 8). What is said of files that cannot be read is what the host of a disk says, as far as a revision can tell.
 */

import { type Attachment, mostAttachmentBytes, presentFile, type WantedFile } from '../../core/captures/attachment.ts';
import { configPath } from '../../core/checks/config-invalid.ts';
import { BasePaths } from '../../core/model/base-path.ts';
import { addTo } from '../../core/terms/grouped.ts';
import { inThousands } from '../../core/text/in-thousands.ts';
import { attachmentOf } from '../attachment-of.ts';
import type { Host, Listing, ReadFile } from '../host.ts';
import { type Led, LinkPaths } from './link-paths.ts';
import { type Blob, readBlobs } from './read-blobs.ts';
import type { Tree, TreeEntry } from './read-tree.ts';
import type { Repository } from './repository.ts';

/** Bytes up to which a file of records is read; a larger one is not even searched for ids. */
export const mostRecordBytes = 16_000_000;

/** Bytes of the longest path that a link may hold. Source: Linux, limits.h, PATH_MAX. */
const mostLinkBytes = 4096;

/** Why what lies in a submodule cannot be read, or the submodule itself. */
export const submodule = 'it belongs to another repository (a submodule), which is not read';

/** The base in one folder of a revision. */
export class GitHost implements Host {
  private constructor(
    private readonly repository: Repository,
    /** Everything below the base's folder, other bases left out. */
    readonly tree: Tree,
    private readonly links: LinkPaths,
  ) {}

  /** The base in the folder that `root` names, relative to the top with `/`, or in the top where it is empty. */
  static async of(repository: Repository, whole: Tree, root: string): Promise<GitHost> {
    const below = treeBelow(whole, root);
    const ids = new Set<string>();
    for (const { kind, id } of below.values()) if (kind === 'link') ids.add(id);
    const targets = new Map<string, string>();
    await readBlobs(repository, [...ids], mostLinkBytes, (blob) => {
      if ('bytes' in blob) targets.set(blob.id, Buffer.from(blob.bytes).toString('utf8'));
    });
    return new GitHost(repository, withoutOtherBases(below), new LinkPaths(below, targets));
  }

  list(ignore: readonly string[]): Promise<Listing> {
    const base = new BasePaths(ignore);
    const paths: string[] = [];
    const unreadable: { readonly path: string; readonly reason: string }[] = [];
    for (const [path, { kind, isNameText }] of this.tree) {
      if (kind === 'file') {
        if (!base.belongs(path)) continue;
        if (isNameText) paths.push(path);
        else unreadable.push({ path, reason: 'its name is not UTF-8' });
        continue;
      }
      if (!canHoldAll(base, path)) continue;
      const reason = kind === 'submodule' ? submodule : whyLinkIsUnread(this.links.follow(path), path, base);
      if (reason !== undefined) unreadable.push({ path, reason });
    }
    return Promise.resolve({ paths, unreadable });
  }

  /** The id of what a path leads to when links in the base are followed; undefined where that is no file of it. */
  contentAt(path: string): string | undefined {
    const led = this.links.follow(path);
    return led.to === 'file' ? led.id : undefined;
  }

  /** Whether a link at this path leads out of the base. */
  leadsOut(path: string): boolean {
    return this.tree.get(path)?.kind === 'link' && this.links.follow(path).to === 'outside';
  }

  /** The submodules whose folders belong to the base. */
  submodulesIn(ignore: readonly string[]): readonly string[] {
    const base = new BasePaths(ignore);
    return [...this.tree].flatMap(([path, { kind }]) => (kind === 'submodule' && canHoldAll(base, path) ? path : []));
  }

  async readMany(paths: readonly string[]): Promise<readonly ReadFile[]> {
    const found = new Map<string, Blob>();
    const ids = new Set(paths.flatMap((path) => this.fileAt(path) ?? []));
    await readBlobs(this.repository, [...ids], mostRecordBytes, (blob) => found.set(blob.id, blob));
    return paths.map((path) => {
      const blob = found.get(this.fileAt(path) ?? '');
      return blob ? toReadFile(blob) : this.withoutFile(path);
    });
  }

  async lookAt(wanted: readonly WantedFile[]): Promise<readonly Attachment[]> {
    const seen: Attachment[] = [];
    const waiting = new Map<string, number[]>();
    for (const [position, { path, need }] of wanted.entries()) {
      const led = this.links.follow(path);
      if (led.to !== 'file') seen[position] = notSeen[led.to];
      else if (need === 'presence') seen[position] = presentFile(need, undefined);
      else addTo(waiting, led.id, position);
    }
    // Each is told at once, so that no two images are held at a time.
    await readBlobs(this.repository, [...waiting.keys()], mostAttachmentBytes, (blob) => {
      for (const position of waiting.get(blob.id) ?? []) {
        const { need = 'sum' } = wanted[position] ?? {};
        seen[position] =
          'size' in blob ? { state: 'too-large', bytes: blob.size } : attachmentOf(need, toReadFile(blob));
      }
    });
    return seen;
  }

  /** The id of what a file holds, links not followed. */
  private fileAt(path: string): string | undefined {
    const entry = this.tree.get(path);
    return entry?.kind === 'file' ? entry.id : undefined;
  }

  private withoutFile(path: string): ReadFile {
    const entry = this.tree.get(path);
    if (entry?.kind === 'link') return { reason: 'it is a link, and links are not followed', isMissing: false };
    if (entry || this.links.isFolder(path)) return { reason: 'it is a folder', isMissing: false };
    return { reason: 'nothing is there', isMissing: true };
  }
}

/** What is to be said of a path that leads to no file. */
const notSeen: Readonly<Record<Exclude<Led['to'], 'file'>, Attachment>> = {
  nothing: { state: 'missing' },
  outside: { state: 'outside' },
  folder: { state: 'unreadable', reason: 'it is a folder' },
  submodule: { state: 'unreadable', reason: submodule },
  itself: { state: 'unreadable', reason: 'it leads back to itself' },
};

/** Why a link is reported; undefined where it is not: it is another name for what is read anyway, or has nothing to do with records. */
function whyLinkIsUnread(led: Led, path: string, base: BasePaths): string | undefined {
  if (led.to === 'folder' || led.to === 'submodule') {
    return 'it is a link to a folder, and links to folders are not followed';
  }
  if (!base.isRecordFile(path)) return undefined;
  switch (led.to) {
    case 'outside':
      return 'it is a link that leads out of the base';
    case 'nothing':
      return 'it is a link, and nothing is there';
    case 'itself':
      return 'it is a link, and it leads back to itself';
    case 'file':
      return base.isRecordFile(led.path) ? undefined : 'it is a link to a file that is not read as records';
  }
}

function toReadFile(blob: Blob): ReadFile {
  if ('bytes' in blob) return { bytes: blob.bytes, contentId: blob.id };
  if ('reason' in blob) return { reason: blob.reason, isMissing: false };
  return { reason: `it has ${inThousands(blob.size)} bytes, too many to be read`, isMissing: false };
}

function canHoldAll(base: BasePaths, path: string): boolean {
  const parts = path.split('/');
  return parts.every((_, depth) => base.canHold(parts.slice(0, depth + 1).join('/')));
}

function treeBelow(whole: Tree, root: string): Tree {
  if (root === '') return whole;
  const start = `${root}/`;
  const below = new Map<string, TreeEntry>();
  for (const [path, entry] of whole) if (path.startsWith(start)) below.set(path.slice(start.length), entry);
  return below;
}

/** A folder with a config of its own is another base. */
function withoutOtherBases(tree: Tree): Tree {
  const others = [...tree.keys()].filter((path) => path.endsWith(`/${configPath}`)).map((path) => dirname(path));
  if (others.length === 0) return tree;
  const isOther = (path: string): boolean => others.some((folder) => path.startsWith(`${folder}/`));
  return new Map([...tree].filter(([path]) => !isOther(path)));
}

function dirname(path: string): string {
  return path.slice(0, path.lastIndexOf('/'));
}
