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
import type { Finding } from '../../core/checks/finding.ts';
import type { KeptRecords } from '../../core/checks/kept-records.ts';
import type { FoundAt } from '../../core/checks/resolve-findings.ts';
import { isEqual } from '../../core/index/is-equal.ts';
import type { FileFacts } from '../../core/model/file-facts.ts';
import type { BaseState } from './base-state.ts';
import { FactsPack, type PackedFacts } from './facts-pack.ts';
import { isInside } from './is-inside.ts';
import { makeFolder } from './make-folder.ts';
import type { Stamp } from './read-disk-file.ts';
import { realPath } from './real-path.ts';
import { contentsOf, type RememberedRun } from './remembered-run.ts';
import { writeAtomically } from './write-atomically.ts';

/** The files of a base with their stamps, the ids of their contents and facts, and which other files their records name. */
export type Stamps = ReadonlyMap<string, StampedContent>;

interface StampedContent {
  readonly stamp: Stamp;
  readonly contentId: string;
  readonly factsId: string;
  readonly wanted: readonly WantedFile[];
}

/** What was seen of other files that records name, with the stamps they had, by path. */
export type SeenAttachments = ReadonlyMap<
  string,
  { readonly stamp: Stamp; readonly need: Need; readonly seen: Attachment }
>;

/** A state of the base, and what the checks of single records raised over it. */
export interface CheckedState {
  /** The day and the checks. */
  readonly options: readonly string[];
  readonly state: BaseState;
  readonly records: KeptRecords;
}

/** Most files name no other. */
type StampRow =
  | readonly [path: string, contentId: string, factsId: string, stamp: Stamp]
  | readonly [path: string, contentId: string, factsId: string, stamp: Stamp, wanted: readonly WantedFile[]];

type AttachmentRow = readonly [path: string, seen: { stamp: Stamp; need: Need; seen: Attachment }];

/** Rows of stamps that are read between two yields. */
const rowsPerLine = 500;

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
  *readFacts(): Generator<undefined, Map<string, FileFacts>> {
    try {
      return yield* this.pack.read();
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
  *readStamps(): Generator<undefined, Stamps> {
    const stamps = new Map<string, StampedContent>();
    try {
      // Some rows a line, so that reading them can be interrupted.
      for (const line of this.readText('stamps')?.split('\n') ?? []) {
        for (const [path, contentId, factsId, stamp, wanted = []] of JSON.parse(line) as readonly StampRow[]) {
          stamps.set(path, { contentId, factsId, stamp, wanted });
        }
        yield;
      }
    } catch {
      return new Map();
    }
    return stamps;
  }

  /** Keeps the stamps of the files, in place of those of before. */
  *writeStamps(stamps: Iterable<readonly [path: string, stamped: StampedContent]>): Generator<undefined, void> {
    const lines: string[] = [];
    let rows: StampRow[] = [];
    for (const [path, { contentId, factsId, stamp, wanted }] of stamps) {
      rows.push(wanted.length === 0 ? [path, contentId, factsId, stamp] : [path, contentId, factsId, stamp, wanted]);
      if (rows.length < rowsPerLine) continue;
      lines.push(JSON.stringify(rows));
      rows = [];
      yield;
    }
    lines.push(JSON.stringify(rows));
    this.writeText('stamps', lines.join('\n'));
  }

  /** What was last seen of other files that records name. */
  readAttachments(): SeenAttachments {
    return new Map(this.read<readonly AttachmentRow[]>('attachments') ?? []);
  }

  /** Keeps what was seen of such files, in place of what was before. */
  writeAttachments(attachments: Iterable<AttachmentRow>): void {
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

  /** What a run over these inputs has found, or the run that was used last, with the places of each finding; nothing where that is lost. */
  readFound(inputs?: readonly string[]): readonly FoundAt[] {
    const name = inputs ? runName(inputs) : this.runs()[0];
    const run = name === undefined ? undefined : this.read<RememberedRun>(name);
    const found = name === undefined ? undefined : this.read<readonly Finding[]>(foundName(name));
    // Two processes may each have written one of the two.
    if (!run || !found || found.length !== run.findings.length || !isEqual(contentsOf(found), run.contents)) return [];
    return run.findings.map((shown, position) => [shown, found[position] as Finding]);
  }

  /** The last state of the base whose records were checked under these options, and what that raised. */
  readChecked(options: readonly string[]): CheckedState | undefined {
    const kept = this.read<CheckedState>('checked');
    return kept && isEqual(kept.options, options) ? kept : undefined;
  }

  /** Keeps such a state, in place of the one before. */
  writeChecked(checked: CheckedState): void {
    this.write('checked', checked);
  }

  /** Keeps what came of a run. */
  writeRun(inputs: readonly string[], records: number, found: readonly FoundAt[]): void {
    const name = runName(inputs);
    const findings = found.map(([, finding]) => finding);
    const run: RememberedRun = { records, findings: found.map(([shown]) => shown), contents: contentsOf(findings) };
    this.write(foundName(name), findings);
    this.write(name, run);
    for (const old of this.runs().slice(mostRuns)) {
      for (const file of [old, foundName(old)]) quietly(() => rmSync(join(this.folder, file), { force: true }));
    }
  }

  /** The names of the runs that are kept, those used last first. */
  private runs(): readonly string[] {
    try {
      const names = readdirSync(this.folder).filter((name) => name.startsWith('run-'));
      const runs = names.map((name) => ({ name, usedMs: statSync(join(this.folder, name)).mtimeMs }));
      return runs.sort((a, b) => b.usedMs - a.usedMs).map(({ name }) => name);
    } catch {
      return [];
    }
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
    this.writeText(name, JSON.stringify(data));
  }

  private writeText(name: string, text: string): void {
    const stored = Buffer.from(`${digestOf([this.sealOf(name), text])}\n${text}`);
    quietly(() => writeAtomically(join(this.folder, name), stored, 'own'));
  }

  /** Data written by `write`, or undefined where it is absent or damaged. */
  private read<T>(name: string): T | undefined {
    const text = this.readText(name);
    try {
      return text === undefined ? undefined : (JSON.parse(text) as T);
    } catch {
      return undefined;
    }
  }

  private readText(name: string): string | undefined {
    try {
      const stored = readFileSync(join(this.folder, name), 'utf8');
      const end = stored.indexOf('\n');
      const text = stored.slice(end + 1);
      return stored.slice(0, end) === digestOf([this.sealOf(name), text]) ? text : undefined;
    } catch {
      return undefined;
    }
  }

  /** Build, base and name of a file. */
  private sealOf(name: string): string {
    return [basename(dirname(this.folder)), basename(this.folder), name].join('\0');
  }
}

/** The file beside that of a run, which is only read where places have to be looked up. */
function foundName(run: string): string {
  return run.replace('run-', 'found-');
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
