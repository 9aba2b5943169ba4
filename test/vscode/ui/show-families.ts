import type { Workbench } from './workbench.ts';

/** Opens the page of a family from the figures above it, that of another one from the overview, and from the palette that at the cursor, the donors for a drive and the next trial of its family. Throws where one does not appear. */
export async function showFamilies(workbench: Workbench): Promise<void> {
  const { page, report } = workbench;
  await workbench.runCommand('View: Close All Editors');
  await page.locator('iframe.webview').waitFor({ state: 'detached' });
  await workbench.openFile('bench/families/tansy-2.yaml');
  await page.locator('.codelens-decoration a', { hasText: 'worked' }).first().click();
  await report.getByRole('heading', { level: 1, name: 'Tansy 2' }).waitFor();
  await report.getByRole('button', { name: 'Overview' }).click();
  await report.getByRole('button', { name: 'sorrel', exact: true }).first().click();
  await report.getByRole('heading', { level: 1, name: 'Sorrel' }).waitFor();
  await workbench.openFile('bench/drives/gabbro-7.yaml');
  await workbench.runCommand('Swaplore: Show Odds');
  await report.getByRole('heading', { level: 1, name: 'Gabbro 7' }).waitFor();
  await workbench.openFile('bench/drives/gabbro-7.yaml');
  await workbench.runCommand('Swaplore: Find Donors for a Drive');
  await report.getByRole('heading', { level: 1, name: /^Donors for d-06/ }).waitFor();
  await workbench.openFile('bench/drives/gabbro-7.yaml');
  await workbench.runCommand('Swaplore: Plan the Next Trial');
  await report.getByRole('heading', { level: 1, name: 'The next trial: gabbro-7' }).waitFor();
}
