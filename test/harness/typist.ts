import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { stripVTControlCharacters } from 'node:util';
import { inject, onTestFinished } from 'vitest';
import type { Given } from './recorded-answers.ts';

/** Keys by name, as terminals send them. */
export const keys = {
  clear: '\u0015',
  enter: '\r',
  up: '\u001b[A',
  down: '\u001b[B',
  space: ' ',
  escape: '\u001b',
} as const;

/** Longest wait for something to appear on the screen. */
const patienceMs = 30_000;

/** Somebody at a terminal of 80 columns, who waits for what stands there before typing on. */
export class Typist {
  private shown = '';
  /** How much of what was shown has been read. */
  private read = 0;

  private constructor(private readonly child: ChildProcess) {
    child.stdout?.on('data', (data: Buffer) => {
      this.shown += data.toString();
    });
  }

  /** Runs the built command in a folder on a terminal. Needs `script` of util-linux. */
  static run(folder: string, args: readonly string[], env: Readonly<Record<string, string>>): Typist {
    const words = [process.execPath, inject('builtCommand'), ...args].map((word) => `'${word}'`).join(' ');
    const child = spawn('script', ['-q', '-e', '-c', `stty cols 80 rows 40 && exec ${words}`, '/dev/null'], {
      cwd: folder,
      env: { PATH: process.env['PATH'], TERM: 'xterm-256color', XDG_CACHE_HOME: inject('cacheHome'), ...env },
      stdio: ['pipe', 'pipe', 'inherit'],
    });
    onTestFinished(() => void child.kill('SIGKILL'));
    return new Typist(child);
  }

  /** Everything shown so far, without what moves the cursor or colours. */
  get screen(): string {
    return stripVTControlCharacters(this.shown).replaceAll('\r', '');
  }

  /** Waits until a text appears that was not there when this was last called. */
  async see(text: string): Promise<void> {
    this.read = (await this.find(text)) + text.length;
  }

  /** Where a text appears behind what was seen last. */
  private async find(text: string): Promise<number> {
    const until = Date.now() + patienceMs;
    for (;;) {
      const at = this.screen.indexOf(text, this.read);
      if (at >= 0) return at;
      if (Date.now() > until) throw new Error(`\`${text}\` never appeared after:\n${this.screen.slice(this.read)}`);
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
  }

  type(...typed: readonly string[]): void {
    for (const text of typed) this.child.stdin?.write(text);
  }

  /** Answers the question in front. */
  async give(given: Given): Promise<void> {
    if ('leave' in given) this.type(keys.enter);
    else if ('type' in given) {
      // What stands there is taken out first, as anybody would.
      this.type(keys.clear, given.type, keys.enter);
    } else if ('mark' in given) {
      for (const label of given.mark) {
        await this.moveTo(label);
        this.type(keys.space);
      }
      this.type(keys.enter);
    } else {
      const label = 'back' in given ? '< go back' : given.pick;
      if (await this.isSearched()) {
        this.type(label);
        await this.see(`\u25cf ${label}`);
      } else await this.moveTo(label);
      this.type(keys.enter);
    }
  }

  /** Whether what is typed narrows the items down. */
  private async isSearched(): Promise<boolean> {
    await this.find('Enter: confirm');
    return this.screen.slice(this.read).includes('to search');
  }

  /** Goes to an item of the list in front. */
  private async moveTo(label: string): Promise<void> {
    const items = [...this.screen.slice(this.read).matchAll(/^\u2502 {2}([\u25cf\u25cb\u25fb\u25fc]) (.*)$/gm)];
    const wanted = items.findIndex(([, , text = '']) => text === label || text.startsWith(`${label} (`));
    const at = Math.max(
      items.findIndex(([, mark]) => mark === '\u25cf'),
      0,
    );
    if (wanted < 0) throw new Error(`\`${label}\` is not among the items of:\n${this.screen.slice(this.read)}`);
    const key = wanted < at ? keys.up : keys.down;
    for (let step = 0; step < Math.abs(wanted - at); step++) this.type(key);
  }

  /** The exit code. */
  async end(): Promise<number> {
    if (this.child.exitCode !== null) return this.child.exitCode;
    const [code] = (await once(this.child, 'exit')) as [number];
    return code;
  }
}
