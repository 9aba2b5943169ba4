import type { Page } from 'playwright-core';
import type { Workbench } from './workbench.ts';

/** Goes from the list of families down to an outcome by keyboard, and from there to its record. Throws where something does not appear. */
export async function browseRecords({ page }: Workbench): Promise<void> {
  await page.locator('.statusbar-item', { hasText: 'Swaplore: 1 error' }).waitFor();
  await page.keyboard.press('F1');
  await page.locator('.quick-input-widget input.input').fill('>Swaplore: Focus on Records View');
  await page.locator('.quick-input-list .monaco-list-row', { hasText: 'Focus on Records View' }).waitFor();
  await page.keyboard.press('Enter');
  const tree = page.getByRole('tree', { name: 'Records' });
  await tree.getByRole('treeitem', { name: /^Family Tansy 2, \d+ drives, / }).waitFor();
  await goTo(page, 'Family Tansy 2');
  await page.keyboard.press('ArrowRight');
  await tree.getByRole('treeitem', { name: /^Outcomes, \d+: / }).waitFor();
  await goTo(page, 'Outcomes');
  await page.keyboard.press('ArrowRight');
  await tree.getByRole('treeitem', { name: /^Outcome 2024-09-17-tansy-311-312, .*reached / }).waitFor();
  await goTo(page, 'Outcome 2024-09-17-tansy-311-312');
  await page.keyboard.press('Enter');
  await page.locator('.tab', { hasText: '2024-09-17-tansy-311-312.yaml' }).waitFor();
  await page.locator('.statusbar-item', { hasText: 'Ln 2, Col 29 (24 selected)' }).waitFor();
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
