import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import type { Browser } from 'playwright-core';
import { launchBrowser } from '../../vscode/launch/browser.ts';
import { type HostKind, hosts } from '../../vscode/launch/hosts.ts';
import { browserHost, nodeHost } from '../targets.ts';
import { type Delays, delaysMark } from './delays.ts';

const extension = fileURLToPath(new URL('../../../', import.meta.url));
const program = fileURLToPath(new URL('measure-delay.ts', import.meta.url));

/** Time a measurement has, start of the window included. */
const limitMs = 90_000;

/** How late the extension hosts of VS Code are while they have a base read and checked, as a table. */
export async function editorTable(base: string, runs: number): Promise<string> {
  const lines: string[] = [];
  for (const host of hosts) {
    const measured = await delaysIn(host, base, runs).catch((error: Error) => error.message);
    lines.push(host.name, ...(typeof measured === 'string' ? [`  ${measured}`] : measured.map(toLine)));
  }
  return lines.join('\n');
}

/** How late one of them is, so many times. Throws, in words, where it cannot be measured. */
export async function delaysIn(host: HostKind, base: string, runs: number): Promise<readonly Delays[]> {
  if (host.lacks !== undefined) throw new Error(host.lacks);
  const browser = await launchBrowser();
  try {
    const all: Delays[] = [];
    for (let run = 1; run <= runs; run++) {
      process.stderr.write(`${host.name}, run ${run} of ${runs}\n`);
      const delays = await measureIn(browser, host, base);
      if (!delays) throw new Error('its extension host did not start in time');
      all.push(delays);
    }
    return all;
  } finally {
    await browser.close();
  }
}

function toLine({ checkedMs, timersMs, loopMs }: Delays): string {
  const { p95, longest } = loopMs ?? timersMs;
  const { most } = loopMs ? nodeHost : browserHost;
  const what = `${loopMs ? 'event loop' : 'timers late'} 95 % ${p95.toFixed(1)} ms`;
  const verdict = `at most ${most} ms: ${p95 > most ? 'missed' : 'met'}`;
  const checked = checkedMs === undefined ? 'not checked in time' : `checked after ${(checkedMs / 1000).toFixed(1)} s`;
  return `  ${what} (${verdict}), longest ${longest.toFixed(0)} ms; ${checked}`;
}

async function measureIn(browser: Browser, { platform, start }: HostKind, folder: string): Promise<Delays | undefined> {
  // A page is given nothing but what lies in the folder of the extension.
  const built = join(extension, 'test', 'bench', 'dist');
  const suite = join(built, 'measure-delay.cjs');
  const external = ['vscode', 'node:perf_hooks'];
  await build({ entryPoints: [program], outfile: suite, bundle: true, format: 'cjs', platform, external });
  const host = await start({ folder, extension, suite });
  const page = await browser.newPage();
  try {
    const measured = new Promise<Delays>((resolve) => {
      void page.exposeFunction('codeAutomationLog', (_type: string, args: readonly unknown[]) => {
        const line = args.join(' ');
        if (line.startsWith(delaysMark)) resolve(JSON.parse(line.slice(delaysMark.length)) as Delays);
      });
    });
    await page.exposeFunction('codeAutomationExit', () => undefined);
    await host.prepare(page);
    await page.goto(host.url);
    return await Promise.race([measured, setTimeout(limitMs, undefined, { ref: false })]);
  } finally {
    await page.close();
    await host.stop();
    rmSync(built, { recursive: true, force: true });
  }
}
