import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';

/** Where Debian's package puts it. */
const executablePath = '/usr/bin/chromium';

/** Whether a browser is at hand. */
export const hasBrowser = existsSync(executablePath);

/** Starts a browser that asks nobody for anything. */
export function launchBrowser(): Promise<Browser> {
  const quiet = ['--disable-background-networking', '--disable-component-update', '--disable-sync', '--no-first-run'];
  return chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-gpu', ...quiet] });
}
