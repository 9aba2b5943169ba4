import { setTimeout } from 'node:timers/promises';
import type { Browser } from 'playwright-core';
import { guardPage } from './guard-page.ts';
import type { Host } from './host.ts';
import { countsMark, type SuiteCounts } from './suite-counts.ts';

/** Time one suite has. */
const limitMs = 120_000;

/** Opens the window of a host that was started with a suite, and waits until it has run. Throws where it did not come to its end. */
export async function runInPage(browser: Browser, host: Host): Promise<SuiteCounts> {
  const page = await browser.newPage();
  const lines: string[] = [];
  const harm = guardPage(page);
  await page.exposeFunction('codeAutomationLog', (_type: string, args: readonly unknown[]) => {
    const line = args.map((arg) => (typeof arg === 'string' ? arg : JSON.stringify(arg))).join(' ');
    lines.push(line);
    if (/^ {2}(✓|✗)/.test(line)) console.log(line);
  });
  const ended = new Promise<string>((resolve) => {
    void page.exposeFunction('codeAutomationExit', () => resolve('ended'));
    page.on('crash', () => resolve('crashed'));
  });
  try {
    await host.prepare(page);
    await page.goto(host.url);
    const end = await Promise.race([ended, setTimeout(limitMs, 'took too long', { ref: false })]);
    const counts = lines.find((line) => line.startsWith(countsMark));
    if (!counts) throw new Error(`The suite ${end} without counts. Its last lines:\n${lines.slice(-30).join('\n')}`);
    if (harm.length > 0) throw new Error(`The page ${harm.join(', and ')}.`);
    const found: SuiteCounts = JSON.parse(counts.slice(countsMark.length));
    if (found.passed + found.failed === 0) throw new Error('No test ran.');
    return found;
  } finally {
    await page.close();
  }
}
