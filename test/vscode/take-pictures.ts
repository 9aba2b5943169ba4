// Takes the pictures of the README, anew into media/pictures; with a folder, also many more into it, for looking at: what an editor and
// the reports show, in three themes, in a wide and in a narrow window.
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { launchBrowser } from './launch/browser.ts';
import { startNodeHost } from './launch/node-host.ts';
import { openWorkbench } from './launch/open-workbench.ts';
import { prepareTour } from './launch/prepare-folder.ts';
import { reports, themes } from './ui/expect-reports-read-well.ts';
import type { Workbench } from './ui/workbench.ts';

const extension = fileURLToPath(new URL('../../', import.meta.url));
const shown = join(extension, 'media', 'pictures');

/** Nothing around the editor that is not asked for. */
const settings = {
  'breadcrumbs.enabled': false,
  'editor.hover.delay': 100,
  'editor.minimap.enabled': false,
  'window.title': 'Swaplore',
  'workbench.activityBar.location': 'hidden',
  'workbench.layoutControl.enabled': false,
};

const sizes = {
  wide: { width: 1280, height: 800 },
  narrow: { width: 480, height: 800 },
} as const;

const looks = ['vscode-light', 'vscode-dark', 'vscode-high-contrast'] as const;

type Take = (name: string) => Promise<unknown>;

/** An editor with findings, and what is said of a value; beside it figures above a rule, where there is room. */
async function takeEditor(workbench: Workbench, isWide: boolean, take: Take): Promise<void> {
  const { page } = workbench;
  const figures = page.locator('.codelens-decoration', { hasText: 'against' }).first();
  await workbench.openFile('tour/tern.yaml');
  await page.keyboard.press('Control+End');
  await figures.waitFor();
  if (!isWide) await take('figures');
  await workbench.openFile('tour/outcomes.yaml');
  if (isWide) {
    await workbench.runCommand('View: Split Editor Right');
    await workbench.openFile('tour/tern.yaml');
    await page.keyboard.press('Control+End');
    await figures.waitFor();
    await page.keyboard.press('Control+1');
    await page.keyboard.press('Control+Shift+M');
    await page.locator('.markers-panel .monaco-list-row').first().waitFor();
  }
  await page.locator('.squiggly-error').first().waitFor();
  await page.mouse.move(1, 1);
  await page.waitForTimeout(500);
  await take('editor');
  await workbench.hover('rom');
  await page.waitForTimeout(500);
  await take('hover');
  await page.keyboard.press('Escape');
  await workbench.runCommand('View: Close All Editors');
  if (isWide) await page.keyboard.press('Control+J');
}

async function takeReports(workbench: Workbench, look: string, take: Take): Promise<void> {
  await workbench.openReports();
  await workbench.report.locator(`body.${look}`).waitFor();
  for (const report of reports) {
    await workbench.showReport(report);
    await take(`report ${report.toLowerCase()}`.replaceAll(' ', '-'));
  }
}

/** Takes what is asked for in one window, in every look. */
async function takeAll(size: keyof typeof sizes, use: (workbench: Workbench) => Promise<void>): Promise<void> {
  const { path: folder, remove } = prepareTour();
  const browser = await launchBrowser();
  const host = await startNodeHost({ folder, extension, settings });
  try {
    const workbench = await openWorkbench(browser, host, sizes[size]);
    await workbench.status(/Swaplore: \d+ errors/).waitFor();
    await workbench.runCommand('View: Toggle Primary Side Bar Visibility');
    await use(workbench);
  } finally {
    await browser.close();
    await host.stop();
    remove();
  }
}

const [folder] = process.argv.slice(2);
mkdirSync(shown, { recursive: true });
if (folder !== undefined) mkdirSync(folder, { recursive: true });

for (const size of folder === undefined ? (['wide'] as const) : (['wide', 'narrow'] as const)) {
  await takeAll(size, async (workbench) => {
    for (const look of folder === undefined ? (['vscode-light'] as const) : looks) {
      await workbench.chooseTheme(themes[look]);
      const take = async (name: string) => {
        const isShown = size === 'wide' && look === 'vscode-light' && /^(editor|report-outcomes)/.test(name);
        if (isShown)
          await workbench.page.screenshot({
            path: join(shown, `${name.replace(/-.*/, '')}.png`),
          });
        if (folder !== undefined)
          await workbench.page.screenshot({ path: join(folder, `${size}-${look}-${name}.png`) });
      };
      await takeEditor(workbench, size === 'wide', take);
      await takeReports(workbench, look, take);
    }
  });
}
