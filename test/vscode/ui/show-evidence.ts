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
  await openFile(workbench, "The first read of the patient's chip", 'bench/roms/d-0312-read-1.bin');
  await choose(workbench, 'The second read of the same chip', 'Choose a File');
  await openFile(workbench, 'The second read of the same chip', 'bench/roms/d-0312-clip-slipped.bin');
  await choose(workbench, "What is on the donor's chip now", 'Not read');
  await choose(workbench, 'Whose chip was read?', 'd-0312');
  await report.getByRole('heading', { level: 1, name: 'ROM images of d-0312' }).waitFor();
  await report.getByText('read again before writing anything').first().waitFor();
  await report.locator('svg').first().waitFor();
}

async function choose({ page }: Workbench, title: string, label: string): Promise<void> {
  await page.locator('.quick-input-title:visible', { hasText: title }).waitFor();
  await page.locator('.quick-input-list .monaco-list-row', { hasText: label }).first().click();
}

/** Names a file below the folder that is open, where the editor asks for one. */
async function openFile({ page }: Workbench, title: string, path: string): Promise<void> {
  await page.locator('.quick-input-title:visible', { hasText: title }).waitFor();
  const input = page.locator('.quick-input-widget input.input');
  // The folder of the base is what it begins with.
  const folder = (await input.inputValue()).replace(/bench\/$/, '');
  await input.fill(folder + path);
  await page.keyboard.press('Enter');
}
