import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import type { Browser } from 'playwright-core';
import { launchBrowser } from '../../vscode/launch/browser.ts';
import { type HostKind, hosts } from '../../vscode/launch/hosts.ts';
import { type Delays, delaysMark } from './delays.ts';

const extension = fileURLToPath(new URL('../../../', import.meta.url));
const program = fileURLToPath(new URL('measure-delay.ts', import.meta.url));

/** The delay of the event loop that may be exceeded in 5 % of cases, in milliseconds. */
const most = 50;

/** Time a measurement has, start of the window included. */
const limitMs = 90_000;

/** How late the extension hosts of VS Code are while they have a base read and checked, as a table. */
export async function editorTable(base: string, runs: number): Promise<string> {
  const browser = await launchBrowser();
  const lines: string[] = [];
  try {
    for (const host of hosts) {
      if (host.lacks !== undefined) lines.push(`${host.name}: ${host.lacks}`);
      else for (let run = 0; run < runs; run++) lines.push(toLine(host, await measureIn(browser, host, base)));
    }
  } finally {
    await browser.close();
  }
  return lines.join('\n');
}

function toLine({ name }: HostKind, delays: Delays | undefined): string {
  if (!delays) return `${name}\n  its extension host did not start in time`;
  const { checkedMs, timersMs, loopMs } = delays;
  const { p95, longest } = loopMs ?? timersMs;
  const what = `${loopMs ? 'event loop' : 'timers late'} 95 % ${p95.toFixed(1)} ms`;
  const verdict = `at most ${most} ms: ${p95 > most ? 'missed' : 'met'}`;
  const checked = checkedMs === undefined ? 'not checked in time' : `checked after ${(checkedMs / 1000).toFixed(1)} s`;
  return `${name}\n  ${what} (${verdict}), longest ${longest.toFixed(0)} ms; ${checked}`;
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
