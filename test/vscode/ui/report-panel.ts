import type { Workbench } from './workbench.ts';

/** Misspells a word, opens the report from the palette, and a place from the report, and mends the word there. Throws where something does not appear. */
export async function followReportPanel(workbench: Workbench): Promise<void> {
  const { page, report } = workbench;
  await workbench.openFile('bench/outcomes/2024-09-17-tansy-311-312.yaml');
  await workbench.replaceWord('chip_moved?', 'chip_move');
  await workbench.status('Swaplore: 1 error').waitFor();
  await workbench.openReports();
  await report.getByRole('heading', { level: 1, name: 'Outcomes against rules' }).waitFor();
  await report.getByRole('button', { name: 'Findings' }).click();
  await report.getByRole('heading', { level: 1, name: 'Findings' }).waitFor();
  // By keyboard, as anybody may have to.
  await report.getByRole('button', { name: 'outcomes/2024-09-17-tansy-311-312.yaml:8' }).first().press('Enter');
  await page.locator('.editor-instance .monaco-editor[data-uri$="tansy-311-312.yaml"]').waitFor();
  const misspelt = report.locator('code', { hasText: /^chip_move$/ }).first();
  await misspelt.waitFor();
  // The misspelt word is what was selected.
  await page.keyboard.type('chip_moved');
  await misspelt.waitFor({ state: 'detached' });
}
