/**
 * Files on a disk. Never writes, never follows a link: a link to a file inside the base is another name for what is read anyway, and
 * one that leads anywhere else is reported.
 */
import type { Dirent } from 'node:fs';
import { readdir, realpath } from 'node:fs/promises';
import { join, relative, sep } from 'node:path';
import type { Attachment, WantedFile } from '../../core/captures/attachment.ts';
import { BasePaths } from '../../core/model/base-path.ts';
import type { Host, Listing, ReadFile } from '../host.ts';
import { codeOf, reasonOf } from '../system-reason.ts';
import { DiskAttachments } from './disk-attachments.ts';
import { isConfigEntry } from './find-bases.ts';
import { readDiskFile } from './read-disk-file.ts';

/** The base below one folder. */
export class DiskHost implements Host {
  constructor(private readonly root: string) {}

  async list(ignore: readonly string[]): Promise<Listing> {
    const walk = new Walk(this.root, new BasePaths(ignore));
    await walk.enter('');
    return { paths: walk.paths, unreadable: walk.unreadable };
  }

  readMany(paths: readonly string[]): Promise<readonly ReadFile[]> {
    return Promise.resolve(paths.map((path) => readDiskFile(this.root, path)));
  }

  lookAt(wanted: readonly WantedFile[]): Promise<readonly Attachment[]> {
    if (wanted.length === 0) return Promise.resolve([]);
    const attachments = new DiskAttachments(this.root);
    return Promise.resolve(wanted.map((file) => attachments.look(file).seen));
  }
}

class Walk {
  readonly paths: string[] = [];
  readonly unreadable: { readonly path: string; readonly reason: string }[] = [];

  constructor(
    private readonly root: string,
    private readonly base: BasePaths,
  ) {}

  async enter(folder: string): Promise<void> {
    const entries = await this.entriesOf(folder);
    // A folder with a config of its own is another base.
    if (folder !== '' && entries.some(isConfigEntry)) return;
    for (const entry of entries) {
      await this.visit(entry, folder === '' ? entry.name : `${folder}/${entry.name}`);
    }
  }

  private async visit(entry: Dirent, path: string): Promise<void> {
    if (entry.isDirectory()) {
      if (this.base.canHold(path)) await this.enter(path);
    } else if (entry.isSymbolicLink()) {
      if (this.base.canHold(path)) await this.visitLink(path);
    } else if (this.base.isRecordFile(path)) {
      if (entry.isFile()) this.paths.push(path);
      else this.unreadable.push({ path, reason: 'it is no regular file' });
    }
  }

  private async visitLink(path: string): Promise<void> {
    const looksLikeRecords = this.base.isRecordFile(path);
    try {
      const target = await realpath(join(this.root, path));
      const inside = relative(await realpath(this.root), target)
        .split(sep)
        .join('/');
      const isOutside = inside.startsWith('..') || inside === '';
      if (await isFolder(target)) {
        this.unreadable.push({ path, reason: 'it is a link to a folder, and links to folders are not followed' });
      } else if (looksLikeRecords && isOutside) {
        this.unreadable.push({ path, reason: 'it is a link that leads out of the base' });
      } else if (looksLikeRecords && !this.base.isRecordFile(inside)) {
        this.unreadable.push({ path, reason: 'it is a link to a file that is not read as records' });
      }
    } catch (error) {
      if (looksLikeRecords) this.unreadable.push({ path, reason: `it is a link, and ${reasonOf(error)}` });
    }
  }

  private async entriesOf(folder: string): Promise<Dirent[]> {
    try {
      const entries = await readdir(join(this.root, folder), { withFileTypes: true });
      return entries.sort((a, b) => (a.name < b.name ? -1 : 1));
    } catch (error) {
      const reason = `it is a folder that cannot be listed (${reasonOf(error)})`;
      this.unreadable.push({ path: folder === '' ? '.' : folder, reason });
      return [];
    }
  }
}

async function isFolder(path: string): Promise<boolean> {
  try {
    await readdir(path);
    return true;
  } catch (error) {
    return codeOf(error) === 'EACCES';
  }
}
