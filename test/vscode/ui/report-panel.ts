import type { Page } from 'playwright-core';

/** Opens the report from the palette, and a place from the report, and mends it there. Throws where something does not appear. */
export async function followReportPanel(page: Page): Promise<void> {
  await page.locator('.statusbar-item', { hasText: 'Swaplore: 1 error' }).waitFor();
  await page.keyboard.press('F1');
  await page.locator('.quick-input-widget input.input').fill('>Swaplore: Check Outcomes Against Rules');
  await page.locator('.quick-input-list .monaco-list-row', { hasText: 'Check Outcomes' }).waitFor();
  await page.keyboard.press('Enter');
  const report = page.frameLocator('iframe.webview').frameLocator('iframe#active-frame');
  await report.getByRole('heading', { level: 1, name: 'Outcomes against rules' }).waitFor();
  await report.getByRole('button', { name: 'Findings' }).click();
  await report.getByRole('heading', { level: 1, name: 'Findings' }).waitFor();
  // By keyboard, as anybody may have to.
  await report.getByRole('button', { name: 'outcomes/2024-09-17-tansy-311-312.yaml:8' }).first().press('Enter');
  await page.locator('.tab', { hasText: '2024-09-17-tansy-311-312.yaml' }).waitFor();
  await page.locator('.editor-instance .view-line', { hasText: 'chip_move' }).waitFor();
  const misspelt = report.locator('code', { hasText: /^chip_move$/ }).first();
  await misspelt.waitFor();
  // The misspelt word is what was selected.
  await page.keyboard.type('chip_moved');
  await misspelt.waitFor({ state: 'detached' });
}
