import type { Locator, Page } from 'playwright-core';
import type { Workbench } from './workbench.ts';

/** Time in which the list has been read anew: half a second of quiet, a fifth in the editor, and room for both on a busy machine. */
const readAnewMs = 2000;

/** Goes from the list of families down to an outcome by keyboard, and from there to its record. Throws where something does not appear. */
export async function browseRecords({ page }: Workbench): Promise<void> {
  await page.locator('.statusbar-item', { hasText: 'Swaplore: 1 error' }).waitFor();
  await page.keyboard.press('F1');
  await page.locator('.quick-input-widget input.input').fill('>Swaplore: Focus on Records View');
  await page.locator('.quick-input-list .monaco-list-row', { hasText: 'Focus on Records View' }).waitFor();
  await page.keyboard.press('Enter');
  const tree = page.getByRole('tree', { name: 'Records' });
  await tree.getByRole('treeitem', { name: /^Family Tansy 2, \d+ drives, / }).waitFor();
  // The list is read anew a moment after the base stands otherwise, and the editor shows nothing below a row opened just then.
  await page.waitForTimeout(readAnewMs);
  await goTo(page, 'Family Tansy 2');
  await expand(page, tree.getByRole('treeitem', { name: /^Outcomes, \d+: / }));
  await goTo(page, 'Outcomes');
  await expand(page, tree.getByRole('treeitem', { name: /^Outcome 2024-09-17-tansy-311-312, .*reached / }));
  await goTo(page, 'Outcome 2024-09-17-tansy-311-312');
  await page.keyboard.press('Enter');
  await page.locator('.tab', { hasText: '2024-09-17-tansy-311-312.yaml' }).waitFor();
  await page.locator('.statusbar-item', { hasText: 'Ln 2, Col 29 (24 selected)' }).waitFor();
}

/** Opens the row with the focus until a row inside it shows. A row that was just put in anew does not hear the key. */
async function expand(page: Page, inside: Locator): Promise<void> {
  for (let attempt = 0; attempt < 10 && !(await inside.isVisible()); attempt++) {
    await page.keyboard.press('ArrowRight');
    await inside.waitFor({ timeout: 2000 }).catch(() => undefined);
  }
  await inside.waitFor();
}

/** Moves down to the next row that is told with these words. */
async function goTo(page: Page, words: string): Promise<void> {
  const focused = page.locator('[role=treeitem].focused');
  for (let row = 0; row < 40; row++) {
    await page.keyboard.press('ArrowDown');
    if ((await focused.getAttribute('aria-label'))?.startsWith(words)) return;
  }
  throw new Error(`no row is told with ${words}`);
}
