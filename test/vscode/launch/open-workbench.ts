import type { Browser } from 'playwright-core';
import { Workbench } from '../ui/workbench.ts';
import { guardPage } from './guard-page.ts';
import type { Host } from './host.ts';

/** How large windows are where nothing else is asked for. */
const viewport = { width: 1280, height: 800 };

/** Opens the window of a host, and gives it once it shows the files of its folder. */
export async function openWorkbench(browser: Browser, host: Host, size = viewport): Promise<Workbench> {
  const page = await browser.newPage({ viewport: size });
  const harm = guardPage(page);
  await host.prepare(page);
  await page.goto(host.url);
  await page.locator('.explorer-folders-view .monaco-list-row').first().waitFor();
  return new Workbench(page, harm);
}
