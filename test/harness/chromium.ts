import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';

/** Where Debian's package puts it. */
const executablePath = '/usr/bin/chromium';

/** Whether no browser is at hand, and nobody insists on one. */
export const lacksBrowser = !existsSync(executablePath) && process.env['SWAPLORE_NEEDS_BROWSER'] === undefined;

/** Starts a browser. Whoever does closes it. */
export function launchBrowser(): Promise<Browser> {
  return chromium.launch({ executablePath });
}
