import { spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { inject, onTestFinished } from 'vitest';
import type { Program } from '../../server/src/cli/command.ts';
import { runCli } from '../../server/src/cli/run-cli.ts';
import type { Terminal } from '../../server/src/cli/terminal.ts';

/** What a run of the built command left behind. */
export interface Run {
  readonly stdout: string;
  readonly stderr: string;
  /** Exit code; undefined where the run had to be stopped. */
  readonly code: number | undefined;
}

/** How a run differs from one in the folder itself, as the user who runs the tests, with an empty environment. */
export interface RunOptions {
  /** Folder below the given one to run in. */
  readonly from?: string;
  readonly env?: Readonly<Record<string, string>>;
  /** Id of the user and group to run as; only root may choose. */
  readonly user?: number | undefined;
}

/** Longest a run may take. All take a fraction of a second; one that waits for something waits for ever. */
const patienceMs = 30_000;

/** A temporary folder with these files, readable by every user and removed after the test. */
export function folderOf(files: Readonly<Record<string, string | Uint8Array>>): string {
  const folder = realpathSync(mkdtempSync(join(tmpdir(), 'swaplore-cli-')));
  chmodSync(folder, 0o755);
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  for (const [path, content] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), content);
  }
  return folder;
}

/** Runs the built command in a folder. */
export function runCommand(folder: string, args: readonly string[], options: RunOptions = {}): Run {
  return runProgram(process.execPath, [inject('builtCommand'), ...args], join(folder, options.from ?? ''), options);
}

/** Runs the built command on a terminal of 80 columns; undefined where no program is at hand that gives it one. */
export function runOnTerminal(folder: string, args: readonly string[], options: RunOptions = {}): Run | undefined {
  if (!hasScript()) return undefined;
  const words = [process.execPath, inject('builtCommand'), ...args].map(quoted).join(' ');
  const typed = ['-q', '-e', '-c', `stty cols 80 rows 24 && ${words}`, '/dev/null'];
  const run = runProgram('script', typed, folder, options);
  return { ...run, stdout: run.stdout.replaceAll('\r\n', '\n') };
}

/** Runs the command in this process, for cases in their hundreds and for terminals that do what real ones seldom do. */
export async function runInside(
  folder: string,
  args: readonly string[],
  terminal: Partial<Terminal> = {},
  program: Program = { version: '0.0.0' },
): Promise<Run> {
  let stdout = '';
  let stderr = '';
  const plain: Terminal = {
    out: (text) => {
      stdout += text;
    },
    err: (text) => {
      stderr += text;
    },
    cwd: folder,
    columns: 80,
    hasColour: false,
  };
  const code = await runCli(args, { ...plain, ...terminal }, program);
  return { stdout, stderr, code };
}

/** What stands on the screen after a run, with the exit code: the output, then lines on stderr behind `! `. */
export function transcript({ stdout, stderr, code }: Run): string {
  const errors = stderr.replace(/^(?=.)/gm, '! ');
  return `${stdout}${errors}exit ${code ?? 'never: it had to be stopped'}`;
}

/** Runs the built command in a temporary folder that holds these files, and gives the transcript. */
export function swaplore(
  files: Readonly<Record<string, string | Uint8Array>>,
  args: readonly string[],
  options?: RunOptions,
): string {
  return transcript(runCommand(folderOf(files), args, options));
}

function runProgram(program: string, args: readonly string[], cwd: string, { env, user }: RunOptions): Run {
  const { stdout, stderr, status, error } = spawnSync(program, args, {
    cwd,
    env: { PATH: process.env['PATH'], XDG_CACHE_HOME: inject('cacheHome'), ...env },
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'pipe'],
    timeout: patienceMs,
    killSignal: 'SIGKILL',
    ...(user === undefined ? {} : { uid: user, gid: user }),
  });
  if (error && !('code' in error && error.code === 'ETIMEDOUT')) throw error;
  return { stdout, stderr, code: status ?? undefined };
}

function hasScript(): boolean {
  const { stdout } = spawnSync('script', ['--version'], { encoding: 'utf8' });
  return typeof stdout === 'string' && stdout.includes('util-linux');
}

function quoted(word: string): string {
  return `'${word.replaceAll("'", "'\\''")}'`;
}
