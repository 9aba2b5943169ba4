import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { codeOf, reasonOf } from '../system-reason.ts';
import type { GitProgram } from './find-git.ts';

/**
 * What every run begins with. Settings of a repository can name programs; these keep git from starting any, and from any server.
 * Source: git-config(1) and git(1). Large files are passed on in pieces and not held.
 */
const guards: readonly string[] = [
  '--no-pager',
  '--literal-pathspecs',
  ...['-c', 'core.fsmonitor=false'],
  ...['-c', 'core.hooksPath=/dev/null'],
  ...['-c', 'protocol.allow=never'],
  ...['-c', 'core.bigFileThreshold=16m'],
];

/** What git printed, and how it ended. */
export interface GitRun {
  readonly stdout: Buffer;
  /** Exit status; undefined where it did not end by itself. */
  readonly status: number | undefined;
  /** What it said was wrong, in one line; empty where it said nothing. */
  readonly trouble: string;
}

/** How a run that goes on for a while has ended. */
export type GitEnd = Pick<GitRun, 'status' | 'trouble'>;

/** A run of git whose output is taken piece by piece. */
export interface GitStream {
  readonly child: ChildProcessWithoutNullStreams;
  /** Settles when git has ended; never rejects. */
  readonly ended: Promise<GitEnd>;
}

/** Runs git in a folder and waits for its end. Words that users gave stand behind `--end-of-options`. */
export async function runGit(git: GitProgram, folder: string, words: readonly string[]): Promise<GitRun> {
  const { child, ended } = streamGit(git, folder, words);
  const printed: Buffer[] = [];
  child.stdout.on('data', (chunk: Buffer) => printed.push(chunk));
  child.stdin.end();
  const end = await ended;
  return { stdout: Buffer.concat(printed), ...end };
}

/** Starts git in a folder, with its input open. */
export function streamGit({ path, env }: GitProgram, folder: string, words: readonly string[]): GitStream {
  const child = spawn(path, [...guards, ...words], { cwd: folder, env, stdio: 'pipe', windowsHide: true });
  let said = '';
  child.stderr.on('data', (chunk: Buffer) => {
    if (said.length < mostSaid) said += chunk.toString('utf8');
  });
  // Git that ends early does not read on.
  child.stdin.on('error', () => undefined);
  const ended = new Promise<GitEnd>((resolve) => {
    child.on('error', (error) =>
      resolve({ status: undefined, trouble: codeOf(error) === '' ? error.message : reasonOf(error) }),
    );
    child.on('close', (status) => resolve({ status: status ?? undefined, trouble: troubleIn(said) }));
  });
  return { child, ended };
}

const mostSaid = 10_000;

/** The line that says why git gave up, else the first. */
function troubleIn(said: string): string {
  const lines = said.split('\n').filter((line) => line !== '');
  const fatal = lines.find((line) => line.startsWith('fatal: '));
  return (fatal ?? lines[0] ?? '').replace(/^(?:fatal|error|warning): /, '').slice(0, 300);
}
