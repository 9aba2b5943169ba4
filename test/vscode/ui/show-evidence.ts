import type { Workbench } from './workbench.ts';

/** Traces the captures of an outcome and compares images of ROM chips, from the palette. Throws where something does not appear. */
export async function showEvidence(workbench: Workbench): Promise<void> {
  const { page, report } = workbench;
  await workbench.status(/Swaplore(:|$)/).waitFor();
  await workbench.runCommand('Swaplore: Trace Identity from Captures');
  await choose(workbench, 'Trace Identity from Captures', '2024-09-19-tansy-311-312');
  await report.getByRole('heading', { level: 1, name: /^What followed the platters/ }).waitFor();
  await report.getByRole('cell', { name: 'same on both' }).first().waitFor();
  await workbench.runCommand('View: Close Editor');
  await page.locator('iframe.webview').waitFor({ state: 'detached' });
  await workbench.runCommand('Swaplore: Compare ROM Images');
  await openImage(workbench, "The first read of the patient's chip", 'd-0312-read-1.bin');
  await choose(workbench, 'The second read of the same chip', 'Choose a File');
  await openImage(workbench, 'The second read of the same chip', 'd-0312-clip-slipped.bin');
  await choose(workbench, "What is on the donor's chip now", 'Not read');
  await choose(workbench, 'Whose chip was read?', 'd-0312');
  await report.getByRole('heading', { level: 1, name: 'ROM images of d-0312' }).waitFor();
  await report.getByText('read again before writing anything').first().waitFor();
  await report.locator('svg').first().waitFor();
  await workbench.runCommand('Swaplore: Compare ROM Images');
  await openImage(workbench, "The first read of the patient's chip", 'whole-drive.bin');
  await choose(workbench, 'The second read of the same chip', 'It was read once');
  await choose(workbench, "What is on the donor's chip now", 'Not read');
  await choose(workbench, 'Whose chip was read?', 'Not recorded');
  const hasText = 'bench/roms/whole-drive.bin holds 65 MiB, but an image of a ROM holds 64 MiB at most.';
  const said = page.locator('.notification-list-item-message', { hasText });
  await said.waitFor();
  await workbench.runCommand('Notifications: Clear All Notifications');
  await said.waitFor({ state: 'hidden' });
}

async function choose({ page }: Workbench, title: string, label: string): Promise<void> {
  await page.locator('.quick-input-title:visible', { hasText: title }).waitFor();
  await page.locator('.quick-input-list .monaco-list-row', { hasText: label }).first().click();
}

/** Chooses an image of the base, where the editor asks for a file and begins with the folder of the base. */
async function openImage({ page }: Workbench, title: string, name: string): Promise<void> {
  const asks = page.locator('.quick-input-title:visible', { hasText: title });
  await asks.waitFor();
  const rows = page.locator('.quick-input-list .monaco-list-row');
  const folder = rows.locator('.label-name', { hasText: /^roms$/ });
  // The list changes while a folder is read, and a click on what goes is lost.
  for (let clicked = 0; clicked < 10 && (await asks.isVisible()); clicked++) {
    await folder
      .or(rows.filter({ hasText: name }))
      .first()
      .click({ timeout: 3000 })
      .catch(() => undefined);
    await asks.waitFor({ state: 'hidden', timeout: 1000 }).catch(() => undefined);
  }
  await asks.waitFor({ state: 'hidden' });
}
