import type { Workbench } from './workbench.ts';

const outcome = 'bench/outcomes/2024-09-17-tansy-311-312.yaml';
/** Another record that names the same drive. */
const rival = 'bench/outcomes/2024-09-19-tansy-311-312.yaml';

/** Edits the records of a base as a technician does. */
export async function editRecords(workbench: Workbench): Promise<void> {
  const { page, lines } = workbench;
  const squiggle = page.locator('.squiggly-error').first();
  await workbench.openFile(outcome);
  await squiggle.waitFor();
  await mendWithAction(workbench);
  await squiggle.waitFor({ state: 'detached' });
  await readHover(workbench);
  await workbench.replaceWord('chip_moved', 'chip_mov');
  await squiggle.waitFor();
  await page.keyboard.press('Control+Shift+M');
  const problem = page.locator('.markers-panel .monaco-list-row', { hasText: 'chip_mov' });
  await problem.waitFor();
  await complete(workbench);
  await squiggle.waitFor({ state: 'detached' });
  await problem.waitFor({ state: 'detached' });
  await rename(workbench);
  await workbench.openFile(rival);
  await lines.filter({ hasText: 'd-9311' }).first().waitFor();
}

async function mendWithAction(workbench: Workbench): Promise<void> {
  const { page } = workbench;
  await workbench.word('chip_move').click({ force: true });
  const action = page.locator('.action-widget .monaco-list-row', { hasText: 'chip_moved' }).first();
  // A menu asked for before the base is read is empty.
  for (let asked = 0; asked < 10 && !(await action.isVisible()); asked++) {
    await page.keyboard.press('Control+.');
    await action.waitFor({ timeout: 3000 }).catch(() => undefined);
  }
  await action.waitFor();
  await page.keyboard.press('Enter');
  await workbench.word('chip_moved').waitFor();
}

async function readHover(workbench: Workbench): Promise<void> {
  const shown = await workbench.hover('rom');
  await shown.filter({ hasText: 'In this base' }).first().waitFor();
  await workbench.page.keyboard.press('Escape');
}

async function complete(workbench: Workbench): Promise<void> {
  const { page } = workbench;
  await workbench.select('chip_mov');
  await page.keyboard.press('Delete');
  await page.keyboard.press('Control+Space');
  await page.locator('.suggest-widget.visible .monaco-list-row', { hasText: 'chip_moved' }).waitFor();
  await page.keyboard.type('chip_m');
  await page.locator('.suggest-widget.visible .monaco-list-row.focused', { hasText: 'chip_moved' }).waitFor();
  await page.keyboard.press('Enter');
  await workbench.word('chip_moved').waitFor();
}

async function rename(workbench: Workbench): Promise<void> {
  const { page } = workbench;
  await workbench.openFile('bench/drives/tansy-2.yaml');
  await workbench.word('d-0311').click({ force: true });
  await page.keyboard.press('F2');
  const box = page.locator('.rename-box input');
  await box.fill('d-9311');
  await box.press('Enter');
  await workbench.word('d-9311').waitFor();
}
