import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';

/** Where Debian's package puts it. */
const executablePath = '/usr/bin/chromium';

/** Whether a browser is at hand. */
export const hasBrowser = existsSync(executablePath);

/** Starts it. Whoever does closes it. */
export function launchBrowser(): Promise<Browser> {
  return chromium.launch({ executablePath });
}
