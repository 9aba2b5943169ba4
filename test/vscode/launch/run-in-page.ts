import { setTimeout } from 'node:timers/promises';
import type { Browser } from 'playwright-core';
import type { Host } from './host.ts';
import { isVerdict, readCounts, type SuiteCounts } from './suite-counts.ts';

/** Time one suite has. */
const limitMs = 120_000;

/** Opens the window of a host that was started with a suite, and waits until it has run. Throws where it did not come to its end. */
export async function runInPage(browser: Browser, host: Host): Promise<SuiteCounts> {
  const page = await browser.newPage();
  const lines: string[] = [];
  const elsewhere = new Set<string>();
  page.on('request', (request) => {
    const { protocol, hostname, origin } = new URL(request.url());
    const isHere = hostname === '127.0.0.1' || /(^|\.)localhost$/.test(hostname);
    if (/^(https?|wss?):$/.test(protocol) && !isHere) elsewhere.add(origin);
  });
  await page.exposeFunction('codeAutomationLog', (_type: string, args: readonly unknown[]) => {
    const line = args.map((arg) => (typeof arg === 'string' ? arg : JSON.stringify(arg))).join(' ');
    lines.push(line);
    if (isVerdict(line)) console.log(line);
  });
  const ended = new Promise<void>((resolve) => {
    void page.exposeFunction('codeAutomationExit', () => resolve());
    page.on('crash', () => resolve());
  });
  try {
    await host.prepare(page);
    await page.goto(host.url);
    await Promise.race([ended, setTimeout(limitMs, undefined, { ref: false })]);
    if (elsewhere.size > 0) throw new Error(`The page asked ${[...elsewhere].join(', ')} for something.`);
    return readCounts(lines);
  } finally {
    await page.close();
  }
}
