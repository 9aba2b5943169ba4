import type { Attachment, WantedFile } from '../core/captures/attachment.ts';
import { BasePaths } from '../core/model/base-path.ts';
import { attachmentOf } from './attachment-of.ts';
import { contentIdOf } from './content-id.ts';
import type { Host, Listing, ReadFile } from './host.ts';

/** A base held in memory: text or bytes by path, or the reason why a file cannot be read. */
export type MemoryFiles = Readonly<Record<string, string | Uint8Array | { readonly unreadable: string }>>;

/** A host over files in memory, for tests and for text that was never saved. Counts how often it was asked. */
export class MemoryHost implements Host {
  reads = 0;

  constructor(private readonly files: MemoryFiles) {}

  list(ignore: readonly string[]): Promise<Listing> {
    const paths = new BasePaths(ignore);
    return Promise.resolve({
      paths: Object.keys(this.files).filter((path) => paths.isRecordFile(path)),
      unreadable: [],
    });
  }

  readMany(paths: readonly string[]): Promise<readonly ReadFile[]> {
    this.reads += paths.length;
    return Promise.resolve(paths.map((path) => this.read(path)));
  }

  lookAt(wanted: readonly WantedFile[]): Promise<readonly Attachment[]> {
    return Promise.resolve(
      wanted.map(({ path, need }) => (this.isFolder(path) ? aFolder : attachmentOf(need, this.read(path)))),
    );
  }

  private isFolder(path: string): boolean {
    return Object.keys(this.files).some((file) => file.startsWith(`${path}/`));
  }

  private read(path: string): ReadFile {
    const file = this.files[path];
    if (file === undefined) return { reason: 'it does not exist', isMissing: true };
    if (typeof file === 'object' && 'unreadable' in file) return { reason: file.unreadable, isMissing: false };
    const bytes = typeof file === 'string' ? new TextEncoder().encode(file) : file;
    return { bytes, contentId: contentIdOf(bytes) };
  }
}

const aFolder: Attachment = { state: 'unreadable', reason: 'it is a folder' };
