import { spawn } from 'node:child_process';
import { codeOf, reasonOf } from '../system-reason.ts';

/** Most that is kept of what a program prints. */
const mostBytes = 4_000_000;

/** What a program left behind: what it printed, and how it ended. */
export interface UtilityRun {
  readonly stdout: Uint8Array;
  readonly stderr: string;
  /** Exit status; undefined where it did not end by itself. */
  readonly status: number | undefined;
  /** Why it did not end by itself, after the program's name; undefined where it did. */
  readonly trouble: string | undefined;
}

/**
 * Runs a program with nothing on its input and nobody's settings in its environment, and waits no longer than `patienceMs`: not even
 * for its end once it was stopped, since a program that waits for a drive cannot be.
 */
export function runUtility(program: string, words: readonly string[], patienceMs: number): Promise<UtilityRun> {
  return new Promise((resolve) => {
    const child = spawn(program, words, {
      stdio: ['ignore', 'pipe', 'pipe'],
      env: { PATH: '/usr/sbin:/usr/bin:/sbin:/bin', LC_ALL: 'C' },
    });
    const printed: Record<'stdout' | 'stderr', Buffer[]> = { stdout: [], stderr: [] };
    let bytes = 0;
    const end = (status: number | undefined, trouble: string | undefined): void => {
      clearTimeout(timer);
      if (trouble !== undefined) child.kill('SIGKILL');
      child.stdout.destroy();
      child.stderr.destroy();
      child.unref();
      const stderr = Buffer.concat(printed.stderr).toString('utf8');
      resolve({ stdout: new Uint8Array(Buffer.concat(printed.stdout)), stderr, status, trouble });
    };
    const timer = setTimeout(() => end(undefined, `did not end within ${patienceMs / 1000} s`), patienceMs);
    for (const stream of ['stdout', 'stderr'] as const) {
      child[stream].on('data', (chunk: Buffer) => {
        bytes += chunk.length;
        if (bytes > mostBytes) end(undefined, `printed more than ${mostBytes / 1_000_000} MB`);
        else printed[stream].push(chunk);
      });
    }
    child.on('error', (error) =>
      end(undefined, `cannot be run: ${codeOf(error) === '' ? error.message : reasonOf(error)}`),
    );
    child.on('close', (status, signal) =>
      end(status ?? undefined, status === null ? `was ended by ${signal ?? 'the system'}` : undefined),
    );
  });
}
