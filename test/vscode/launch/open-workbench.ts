import type { Browser, Page } from 'playwright-core';
import type { Host } from './host.ts';

/** Opens the window of a host, and gives it once it shows the files of its folder. */
export async function openWorkbench(browser: Browser, host: Host): Promise<Page> {
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  await host.prepare(page);
  await page.goto(host.url);
  await page.locator('.explorer-folders-view .monaco-list-row').first().waitFor();
  return page;
}
