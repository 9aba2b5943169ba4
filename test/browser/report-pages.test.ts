import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { AxeResults } from 'axe-core';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { connectBrowser, lacksBrowser } from '../harness/chromium.ts';
import { hostileBase, hostileMark } from '../harness/hostile-base.ts';
import { filePagesOf, panelPagesOf } from '../harness/report-pages.ts';
import { folderOf } from '../harness/run-cli.ts';
import { projectRoot } from '../harness/source-files.ts';
import { outcome, ternBench } from '../harness/tern-bench.ts';

/** Rules for accessible pages. Source: axe-core, which tests the success criteria of WCAG 2.2 that a program can test. */
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Bases whose pages are looked at; what is asked of them holds for any, so that a change of data breaks nothing. */
const bases = ['knowledge', 'test/fixtures/faults/saltmarket'];

const looks: Readonly<Record<string, BrowserContextOptions>> = {
  'in a wide window, light': { colorScheme: 'light', viewport: { width: 1280, height: 800 } },
  'in a narrow window, dark': { colorScheme: 'dark', viewport: { width: 400, height: 800 } },
};

describe.skipIf(lacksBrowser)('report pages in a browser', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await connectBrowser();
  });
  afterAll(() => browser.close());

  describe.each(bases)('of %s', (base) => {
    const pages = withOneFamily(filePagesOf(textsIn(base)));

    it.each(Object.keys(looks))('have no fault that a program finds, %s', async (look) => {
      const folder = folderOf(pages);
      const { page, said } = await openPage(browser, looks[look]);
      for (const file of Object.keys(pages)) {
        await page.goto(pathToFileURL(join(folder, file)).href);
        expect(await faultsOf(page), file).toEqual([]);
        expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth'), file).toBe(true);
      }
      expect(said).toEqual([]);
      await page.context().close();
    });
  });

  it('show what records hold as text, whatever it tries to be', async () => {
    const pages = filePagesOf(hostileBase());
    const folder = folderOf(pages);
    const { page, said } = await openPage(browser, looks['in a narrow window, dark']);
    page.on('dialog', (dialog) => said.push(dialog.message()));
    for (const file of Object.keys(pages)) {
      await page.goto(pathToFileURL(join(folder, file)).href);
      expect(await page.evaluate(`'${hostileMark}' in globalThis`), file).toBe(false);
      expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth'), file).toBe(true);
      const addresses = await page.evaluate<string[]>(
        `[...document.querySelectorAll('[href], [src]')].map((one) => one.getAttribute('href') ?? one.getAttribute('src'))`,
      );
      // To the pages and to places in them, and nowhere else.
      expect(addresses.filter((address) => !/^([\w-]+\.html)?(#[^#]*)?$/.test(address))).toEqual([]);
    }
    expect(said).toEqual([]);
    await page.context().close();
  });

  it('lead from one to the other, and by keyboard past their head', async () => {
    const folder = folderOf(filePagesOf(broken));
    const { page, said } = await openPage(browser);
    await page.goto(pathToFileURL(join(folder, 'index.html')).href);
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    expect(await page.evaluate('document.activeElement.localName')).toBe('main');
    await page.getByRole('link', { name: 'tern-2' }).click();
    expect(await page.title()).toBe('Tern 2 (tern-2)');
    await page.getByRole('link', { name: 'Outcomes against rules' }).click();
    await page.getByRole('link', { name: /^outcomes\/left\.yaml:7$/ }).click();
    expect(await page.title()).toBe('Findings: Harbour Street bench');
    expect(await page.locator(':target .message').textContent()).toMatch(/^Outcome left reached reads/);
    expect(said).toEqual([]);
    await page.context().close();
  });

  it('tell the host of their panel which place and which report was chosen', async () => {
    const { page, said } = await openPage(browser);
    await page.addInitScript(
      'globalThis.told = []; globalThis.acquireVsCodeApi = () => ({ postMessage: (message) => told.push(message) });',
    );
    await page.route('**', (route) =>
      route.fulfill({ contentType: 'text/html', body: panelPagesOf(broken).contradictions.html }),
    );
    await page.goto('https://panel.invalid/');
    await page.getByRole('button', { name: 'outcomes/left.yaml:7' }).click();
    await page.getByRole('button', { name: 'Findings' }).click();
    expect(await page.evaluate('told')).toEqual([{ place: 0 }, { report: 'findings' }]);
    expect(await faultsOf(page)).toEqual([]);
    expect(said).toEqual([]);
    await page.context().close();
  });

  it('take the colours of the editor around their panel', async () => {
    const { page } = await openPage(browser, { colorScheme: 'light' });
    const { html } = panelPagesOf(broken).overview;
    const body = html.replace('<body>', '<body class="vscode-high-contrast">');
    await page.addInitScript('globalThis.acquireVsCodeApi = () => ({})');
    await page.route('**', (route) => route.fulfill({ contentType: 'text/html', body }));
    await page.goto('https://panel.invalid/');
    // As an editor does it; an attribute would be forbidden by the page's policy.
    await page.evaluate(
      `document.documentElement.style.cssText = '--vscode-editor-background: #102030; --vscode-editor-foreground: #e0f0ff'`,
    );
    expect(await page.evaluate('getComputedStyle(document.body).backgroundColor')).toBe('rgb(16, 32, 48)');
    expect(await page.evaluate(`getComputedStyle(document.querySelector('caption')).color`)).toBe('rgb(224, 240, 255)');
    await page.context().close();
  });
});

const broken = { ...ternBench, 'outcomes/left.yaml': outcome('left', 'left') };

/** The pages without those of families but the longest, which shows the most. */
function withOneFamily(pages: Readonly<Record<string, string>>): Record<string, string> {
  const [longest] = Object.entries(pages)
    .filter(([file]) => file.startsWith('family-'))
    .sort(([, a], [, b]) => b.length - a.length);
  const others = Object.entries(pages).filter(([file]) => !file.startsWith('family-'));
  return Object.fromEntries([...others, ...(longest ? [longest] : [])]);
}

function textsIn(base: string): Record<string, string> {
  const paths = readdirSync(join(projectRoot, base), { recursive: true, encoding: 'utf8' });
  return Object.fromEntries(
    paths
      .filter((path) => /\.ya?ml$/.test(path))
      .map((path) => [path.replaceAll('\\', '/'), readFileSync(join(projectRoot, base, path), 'utf8')]),
  );
}

/** A page, and what the browser says of it: errors, what its policy forbids, and whatever it asks for besides itself. */
async function openPage(browser: Browser, options?: BrowserContextOptions) {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  const said: string[] = [];
  page.on('console', (message) => said.push(message.text()));
  page.on('pageerror', (error) => said.push(String(error)));
  page.on('request', (request) => {
    if (!request.isNavigationRequest()) said.push(request.url());
  });
  return { page, said };
}

/** Faults with the elements that have them. */
async function faultsOf(page: Page): Promise<readonly string[]> {
  // What the browser is told to evaluate is no script of the page, whose policy would forbid it.
  await page.evaluate(axe);
  const { violations } = await page.evaluate<AxeResults>('axe.run()');
  return violations.flatMap(({ id, impact, nodes }) =>
    nodes.map(({ html }) => `${impact} ${id}: ${html.slice(0, 200)}`),
  );
}
