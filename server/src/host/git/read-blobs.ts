import type { Repository } from './repository.ts';
import { type GitEnd, streamGit } from './run-git.ts';

/** A content of the repository as read; one that is too large comes with its size, in bytes, alone. */
export type Blob =
  | { readonly id: string; readonly bytes: Uint8Array }
  | { readonly id: string; readonly size: number }
  /** `isAbsent`: the repository knows of it and does not hold it. */
  | { readonly id: string; readonly reason: string; readonly isAbsent: boolean };

/** Why a content cannot be read that the repository knows of and does not hold. */
export const notInClone = 'it is not in this clone';

/** Runs that may end over a content before the rest is given up: each takes a process. */
const mostFailures = 50;

/**
 * Reads contents by their ids, in the order asked for, each handed over as it comes. What has more than `mostBytes` is not read. All
 * come from one process, unless one is too large or damaged: then another goes on behind it.
 */
export async function readBlobs(
  repository: Repository,
  ids: readonly string[],
  mostBytes: number,
  take: (blob: Blob) => void,
): Promise<void> {
  let failures = 0;
  for (let at = 0; at < ids.length; ) {
    const { count, failure } = await readOn(repository, ids.slice(at), mostBytes, take);
    at += count;
    if (failure === undefined) continue;
    failures++;
    const failing = failures < mostFailures ? ids.slice(at, at + 1) : ids.slice(at);
    for (const id of failing) take({ id, ...failureOf(failure) });
    at += failing.length;
  }
}

/** Reads until all are read, one is too large, or git ends over one. */
async function readOn(
  { git, folder }: Repository,
  ids: readonly string[],
  mostBytes: number,
  take: (blob: Blob) => void,
): Promise<{ readonly count: number; readonly failure: GitEnd | undefined }> {
  const { child, ended } = streamGit(git, folder, ['cat-file', '--batch', '--buffer']);
  const reader = new BatchReader(ids, mostBytes, take);
  child.stdout.on('data', (chunk: Buffer) => {
    if (!reader.isDone && reader.add(chunk)) child.kill('SIGKILL');
  });
  child.stdin.end(`${ids.join('\n')}\n`);
  const end = await ended;
  return { count: reader.count, failure: reader.isDone ? undefined : end };
}

/** Takes the output of `git cat-file --batch` apart. Source: git-cat-file(1), "BATCH OUTPUT". */
class BatchReader {
  /** Contents handed over so far. */
  count = 0;
  private readonly chunks: Buffer[] = [];
  private held = 0;
  /** Bytes that have to be there before it is worth looking again. */
  private needed = 1;
  private isStopped = false;

  constructor(
    private readonly ids: readonly string[],
    private readonly mostBytes: number,
    private readonly take: (blob: Blob) => void,
  ) {}

  get isDone(): boolean {
    return this.isStopped || this.count === this.ids.length;
  }

  /** Takes the next piece. Gives whether nothing after it is wanted although git goes on. */
  add(chunk: Buffer): boolean {
    this.chunks.push(chunk);
    this.held += chunk.length;
    if (this.held < this.needed) return false;
    const bytes = this.chunks.length === 1 ? chunk : Buffer.concat(this.chunks);
    const rest = bytes.subarray(this.readAll(bytes));
    this.chunks.splice(0, Number.POSITIVE_INFINITY, rest);
    this.held = rest.length;
    return this.isStopped;
  }

  /** Hands over what is complete. Gives where the rest begins. */
  private readAll(bytes: Buffer): number {
    let at = 0;
    while (!this.isDone) {
      const lineEnd = bytes.indexOf(10, at);
      this.needed = bytes.length - at + 1;
      if (lineEnd < 0) return at;
      const id = this.ids[this.count] ?? '';
      const [, type, size] = /^\w+ (\w+) (\d+)$/.exec(bytes.toString('latin1', at, lineEnd)) ?? [];
      const end = lineEnd + 1 + Number(size);
      if (type === undefined) {
        this.hand({ id, reason: notInClone, isAbsent: true });
        at = lineEnd + 1;
      } else if (type !== 'blob' || Number(size) > this.mostBytes) {
        this.isStopped = true;
        this.hand(type === 'blob' ? { id, size: Number(size) } : { id, reason: 'it is no file', isAbsent: false });
      } else if (bytes.length > end) {
        this.hand({ id, bytes: bytes.subarray(lineEnd + 1, end) });
        at = end + 1;
      } else {
        this.needed = end + 1 - at;
        return at;
      }
    }
    return at;
  }

  private hand(blob: Blob): void {
    this.count++;
    this.take(blob);
  }
}

/** A clone that leaves objects out has git end where it would have to fetch one. */
function failureOf({ trouble }: GitEnd): { readonly reason: string; readonly isAbsent: boolean } {
  if (/from promisor remote/.test(trouble)) return { reason: notInClone, isAbsent: true };
  return { reason: `git cannot read it (${trouble || 'it ended early'})`, isAbsent: false };
}
