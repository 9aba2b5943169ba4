import { execFileSync } from 'node:child_process';
import { mkdtempSync, realpathSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { findGit, type GitProgram } from '../../server/src/host/git/find-git.ts';

/** What a commit puts at a path; null takes away what was there. */
type Put = string | Uint8Array | { readonly link: string } | { readonly submodule: string } | null;

/** One commit. The first parent of a branch that is there already is its tip. */
export interface Commit {
  readonly on: string;
  /** Branch that a new branch starts from; absent: from nothing. */
  readonly from?: string;
  /** Branch that is merged. The files are what `puts` makes of those of `on`. */
  readonly merges?: string;
  readonly puts: Readonly<Record<string, Put>>;
}

/** A home without settings, so that nobody's own change what tests see. */
const env = { PATH: process.env['PATH'] ?? '', HOME: '/nonexistent', LC_ALL: 'C', GIT_CONFIG_NOSYSTEM: '1' };

/** The git program of this system. Throws where there is none. */
export function gitOfTests(): GitProgram {
  const git = findGit(env, process.platform);
  if (!git) throw new Error('These tests need git.');
  return git;
}

/** Runs git in a folder and gives what it prints, without the last newline. */
export function git(folder: string, ...words: string[]): string {
  return execFileSync('git', words, { cwd: folder, env, encoding: 'utf8', stdio: ['pipe', 'pipe', 'pipe'] }).replace(
    /\n$/,
    '',
  );
}

/** A temporary folder, removed after the test. */
export function emptyFolder(): string {
  const folder = realpathSync(mkdtempSync(join(tmpdir(), 'swaplore-git-')));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** A repository of these commits in a temporary folder; its files are those of `main`. Every commit has a tag `c` with its number, counted from 1. */
export function repositoryOf(commits: readonly Commit[], folder = emptyFolder()): string {
  git(folder, 'init', '--quiet', '--initial-branch=main');
  execFileSync('git', ['fast-import', '--quiet'], { cwd: folder, env, input: streamOf(commits) });
  git(folder, 'reset', '--quiet', '--hard', 'main');
  return folder;
}

/** Source: git-fast-import(1). */
function streamOf(commits: readonly Commit[]): Buffer {
  const parts: (string | Uint8Array)[] = [];
  const tips = new Set<string>();
  for (const [position, { on, from, merges, puts }] of commits.entries()) {
    const when = 1_700_000_000 + 60 * position;
    parts.push(`commit refs/heads/${on}\nmark :${position + 1}\n`);
    parts.push(
      `author Bench <bench@example.org> ${when} +0000\ncommitter Bench <bench@example.org> ${when} +0000\ndata 1\nx\n`,
    );
    if (!tips.has(on) && from !== undefined) parts.push(`from refs/heads/${from}\n`);
    if (merges !== undefined) parts.push(`merge refs/heads/${merges}\n`);
    tips.add(on);
    for (const [path, put] of Object.entries(puts)) parts.push(...toCommand(path, put));
    parts.push(`\nreset refs/tags/c${position + 1}\nfrom :${position + 1}\n\n`);
  }
  return Buffer.concat(parts.map((part) => Buffer.from(part)));
}

function* toCommand(path: string, put: Put): Generator<string | Uint8Array> {
  const quoted = quotedPath(path);
  if (put === null) yield* ['D ', ...quoted, '\n'];
  else if (typeof put === 'object' && 'submodule' in put) yield* [`M 160000 ${put.submodule} `, ...quoted, '\n'];
  else {
    const isLink = typeof put === 'object' && 'link' in put;
    const bytes = Buffer.from(isLink ? put.link : put);
    yield* [`M ${isLink ? 120000 : 100644} inline `, ...quoted, `\ndata ${bytes.length}\n`, bytes, '\n'];
  }
}

/** `\xff` in a path stands for a byte that is no UTF-8. */
function quotedPath(path: string): string[] {
  const escaped = path
    .replace(/[\\"\n]/g, (sign) => (sign === '\n' ? '\\n' : `\\${sign}`))
    .replaceAll('\\\\xff', '\\377');
  return [`"${escaped}"`];
}
