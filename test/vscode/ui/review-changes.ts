import type { Workbench } from './workbench.ts';

const title = 'Review Changes Against a Branch';

/** Reviews the changes of a base, from the palette: against a branch, or where no history can be read against a folder. */
export async function reviewChanges(workbench: Workbench): Promise<void> {
  const { page, report } = workbench;
  await workbench.status(/Swaplore(:|$)/).waitFor();
  await workbench.runCommand(`Swaplore: ${title}`);
  await page.locator('.quick-input-title:visible', { hasText: title }).waitFor();
  const rows = page.locator('.quick-input-list .monaco-list-row');
  const folder = rows.filter({ hasText: 'A Folder That Holds the Base as It Was' });
  await folder.waitFor();
  const branch = rows.locator('.label-name', { hasText: /^main$/ });
  if (await branch.isVisible()) {
    await branch.click();
    await report.getByRole('heading', { level: 1, name: 'Review: the files as they are now against main' }).waitFor();
    await report.getByText('outcome/2024-09-17-tansy-311-312').first().waitFor();
  } else {
    await page.locator('.quick-input-widget input[placeholder*="cannot be read here"]').waitFor();
    await folder.click();
    await page.locator('.quick-input-widget .monaco-button:visible', { hasText: 'Compare' }).click();
    await report.getByText('No record and no setting says anything else than before').waitFor();
  }
  await workbench.runCommand('View: Close Editor');
  await page.locator('iframe.webview').waitFor({ state: 'detached' });
}
