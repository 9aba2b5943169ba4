import { type FileFacts, unreadableFacts, unreadTooLargeFacts } from '../../core/model/file-facts.ts';
import { drained } from '../../core/terms/drained.ts';
import type { BaseCache } from '../disk/base-cache.ts';
import { ContentLoader } from '../disk/load-files.ts';
import { mostRecordBytes } from './git-host.ts';
import { readBlobs } from './read-blobs.ts';
import type { Repository } from './repository.ts';

/** Contents from which on it pays to look for their facts among all those remembered, instead of parsing them. */
const manyContents = 64;

/** Where facts may be remembered, and what loads them on other cores. */
export interface FactsOptions {
  readonly cache: BaseCache | undefined;
  /** Program of further threads; undefined where there is none. */
  readonly loader: string | undefined;
}

/** What stands in files, by the ids of their contents: several revisions hold mostly the same. */
export class BlobFacts {
  /** Contents that could not be read, with whether the repository knows of them and does not hold them. */
  private readonly unread = new Map<string, boolean>();
  private readonly facts = new Map<string, FileFacts>();

  constructor(
    private readonly repository: Repository,
    private readonly options: FactsOptions,
  ) {}

  /** Takes what is known already. */
  put(id: string, facts: FileFacts): void {
    if (id !== '') this.facts.set(id, facts);
  }

  /** The facts of a content that was loaded. */
  get(id: string): FileFacts {
    return this.facts.get(id) ?? unreadableFacts('git does not give it');
  }

  /** Whether a content that was loaded could be read. */
  isRead(id: string): boolean {
    return !this.unread.has(id);
  }

  /** Whether a content that was loaded is left out of this clone. */
  isAbsent(id: string): boolean {
    return this.unread.get(id) === true;
  }

  /** Loads what is not known of these contents. */
  async load(ids: Iterable<string>): Promise<void> {
    const { cache } = this.options;
    let unknown = this.unknownOf(new Set(ids));
    if (unknown.length >= manyContents && cache?.hasFacts) {
      for (const [id, facts] of drained(cache.readFacts())) if (!this.facts.has(id)) this.facts.set(id, facts);
      unknown = this.unknownOf(unknown);
    }
    if (unknown.length > 0) await this.read(unknown);
  }

  private async read(ids: readonly string[]): Promise<void> {
    const { cache, loader } = this.options;
    const loading = new ContentLoader(ids.length, { loader, isPacked: cache !== undefined }, ({ files }, packed) => {
      for (const { contentId, facts } of files) this.facts.set(contentId, facts);
      if (packed !== undefined) cache?.addFacts(packed);
    });
    await readBlobs(this.repository, ids, mostRecordBytes, (blob) => {
      if ('bytes' in blob) loading.add(blob);
      else if ('size' in blob) this.facts.set(blob.id, unreadTooLargeFacts(blob.size));
      else {
        this.unread.set(blob.id, blob.isAbsent);
        this.facts.set(blob.id, unreadableFacts(blob.reason));
      }
    });
    await loading.finish();
  }

  private unknownOf(ids: Iterable<string>): string[] {
    return Array.from(ids).filter((id) => !this.facts.has(id));
  }
}
