import { type Browser, chromium } from 'playwright-core';
import { lacks } from '../lsp/harness/lacks.ts';

/** Where Debian's package puts it. */
const executablePath = '/usr/bin/chromium';

/** Whether no browser is at hand, and nobody insists on one. */
export const lacksBrowser = lacks(executablePath);

/** Starts a browser. Whoever does closes it. */
export function launchBrowser(): Promise<Browser> {
  return chromium.launch({ executablePath });
}
