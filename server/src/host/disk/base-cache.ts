/**
 * What is remembered of one base between runs. It lies in the user's cache folder, under the id of the build that wrote it: another
 * schema or another version of the tool finds nothing. It may be deleted at any time. Whatever is damaged counts as absent, as does what
 * was written for another build, another base or under another name: a digest is of all three.
 * Invariant 16: nothing is ever read from inside a base; where the cache folder lies in one, that base has no cache.
 */
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, realpathSync, rmSync, statSync, utimesSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import type { Attachment, Need, WantedFile } from '../../core/captures/attachment.ts';
import type { ResolvedFinding } from '../../core/checks/resolve-findings.ts';
import type { FileFacts } from '../../core/model/file-facts.ts';
import { FactsPack, type PackedFacts } from './facts-pack.ts';
import { isInside } from './is-inside.ts';
import { makeFolder } from './make-folder.ts';
import type { Stamp } from './read-disk-file.ts';
import { realPath } from './real-path.ts';
import { writeAtomically } from './write-atomically.ts';

/** The files of a base with their stamps and content ids, and which other files their records name. */
export type Stamps = ReadonlyMap<
  string,
  { readonly stamp: Stamp; readonly contentId: string; readonly wanted: readonly WantedFile[] }
>;

/** What was seen of other files that records name, with the stamps they had, by path. */
export type SeenAttachments = ReadonlyMap<
  string,
  { readonly stamp: Stamp; readonly need: Need; readonly seen: Attachment }
>;

/** What a run of checks came to. */
export interface RememberedRun {
  readonly records: number;
  readonly findings: readonly ResolvedFinding[];
}

/** Most files name no other. */
type StampRow =
  | readonly [path: string, contentId: string, stamp: Stamp]
  | readonly [path: string, contentId: string, stamp: Stamp, wanted: readonly WantedFile[]];

type AttachmentRow = readonly [path: string, seen: { stamp: Stamp; need: Need; seen: Attachment }];

/** Results kept for one base: those of a few days, options and branches. */
const mostRuns = 8;

/** Time after which what nobody used is deleted. */
const unusedMs = 30 * 24 * 60 * 60 * 1000;

/** The remembered state of one base. Reading gives nothing where there is nothing; writing that fails is forgotten. */
export class BaseCache {
  private readonly pack: FactsPack;

  private constructor(private readonly folder: string) {
    this.pack = new FactsPack(join(folder, 'facts'), this.sealOf('facts'));
  }

  /** The cache of the base in a folder; undefined where `cacheFolder`, that of this build, may not be used for it. */
  static of(root: string, cacheFolder: string): BaseCache | undefined {
    try {
      const base = realpathSync(root);
      if (isInside(base, realPath(cacheFolder))) return undefined;
      const cache = new BaseCache(join(cacheFolder, digestOf([base]).slice(0, 20)));
      cache.prepare();
      return cache;
    } catch {
      return undefined;
    }
  }

  /** Whether facts of any file are at hand. */
  get hasFacts(): boolean {
    return existsSync(this.pack.path);
  }

  /** All facts at hand, by content id. */
  readFacts(): Map<string, FileFacts> {
    try {
      return this.pack.read();
    } catch {
      return new Map();
    }
  }

  /** Adds facts: `PackedFacts` as JSON. */
  addFacts(text: string): void {
    quietly(() => this.pack.append(text));
  }

  /** Throws away all facts but these. */
  keepFacts(facts: ReadonlyMap<string, FileFacts>): void {
    const packed: PackedFacts = { ids: [...facts.keys()], facts: [...facts.values()] };
    quietly(() => this.pack.replace(JSON.stringify(packed)));
  }

  /** The stamps that the files had when they were last read. */
  readStamps(): Stamps {
    const rows = this.read<readonly StampRow[]>('stamps');
    return new Map(
      (rows ?? []).map(([path, contentId, stamp, wanted = []]) => [path, { contentId, stamp, wanted }] as const),
    );
  }

  /** Keeps the stamps of the files, in place of those of before. */
  writeStamps(stamps: Stamps): void {
    const rows = Array.from(stamps, ([path, { contentId, stamp, wanted }]): StampRow => {
      return wanted.length === 0 ? [path, contentId, stamp] : [path, contentId, stamp, wanted];
    });
    this.write('stamps', rows);
  }

  /** What was last seen of other files that records name. */
  readAttachments(): SeenAttachments {
    return new Map(this.read<readonly AttachmentRow[]>('attachments') ?? []);
  }

  /** Keeps what was seen of such files, in place of what was before. */
  writeAttachments(attachments: SeenAttachments): void {
    this.write('attachments', [...attachments]);
  }

  /** What came of a run over exactly these inputs. */
  findRun(inputs: readonly string[]): RememberedRun | undefined {
    const name = runName(inputs);
    const run = this.read<RememberedRun>(name);
    // The runs used last are the ones kept.
    if (run) quietly(() => utimesSync(join(this.folder, name), new Date(), new Date()));
    return run;
  }

  /** Keeps what came of a run. */
  writeRun(inputs: readonly string[], run: RememberedRun): void {
    this.write(runName(inputs), run);
    quietly(() => {
      const runs = readdirSync(this.folder).filter((name) => name.startsWith('run-'));
      const newestFirst = runs.map((name) => ({ name, usedMs: statSync(join(this.folder, name)).mtimeMs }));
      newestFirst.sort((a, b) => b.usedMs - a.usedMs);
      for (const { name } of newestFirst.slice(mostRuns)) rmSync(join(this.folder, name), { force: true });
    });
  }

  /** Makes the folder, and clears away what other builds left behind and nobody uses any more. */
  private prepare(): void {
    quietly(() => {
      const builds = dirname(dirname(this.folder));
      makeFolder(this.folder, 0o700);
      for (const name of readdirSync(builds)) {
        const build = join(builds, name);
        if (Date.now() - statSync(build).mtimeMs > unusedMs) rmSync(build, { recursive: true, force: true });
      }
      utimesSync(dirname(this.folder), new Date(), new Date());
    });
  }

  private write(name: string, data: unknown): void {
    const text = JSON.stringify(data);
    const stored = Buffer.from(`${digestOf([this.sealOf(name), text])}\n${text}`);
    quietly(() => writeAtomically(join(this.folder, name), stored, 'own'));
  }

  /** Data written by `write`, or undefined where it is absent or damaged. */
  private read<T>(name: string): T | undefined {
    try {
      const stored = readFileSync(join(this.folder, name), 'utf8');
      const end = stored.indexOf('\n');
      const text = stored.slice(end + 1);
      return stored.slice(0, end) === digestOf([this.sealOf(name), text]) ? (JSON.parse(text) as T) : undefined;
    } catch {
      return undefined;
    }
  }

  /** Build, base and name of a file. */
  private sealOf(name: string): string {
    return [basename(dirname(this.folder)), basename(this.folder), name].join('\0');
  }
}

function runName(inputs: readonly string[]): string {
  return `run-${digestOf(inputs).slice(0, 20)}`;
}

/** Parts are told apart by NUL, which no path and no id holds. */
function digestOf(parts: readonly string[]): string {
  const digest = createHash('sha256');
  for (const part of parts) digest.update(part).update('\0');
  return digest.digest('hex');
}

function quietly(work: () => void): void {
  try {
    work();
  } catch {
    // A cache that cannot be written to costs time, nothing else.
  }
}
