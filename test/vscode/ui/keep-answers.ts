import type { Workbench } from './workbench.ts';

/** Records an outcome where none can be written, is told so, and finds the answers kept. Throws where something does not appear. */
export async function keepAnswers(workbench: Workbench): Promise<void> {
  const { page } = workbench;
  await workbench.status(/Swaplore/).waitFor();
  await workbench.runCommand('Swaplore: Record a Swap Outcome');
  const title = page.locator('.quick-input-title:visible');
  await title.filter({ hasText: 'On which day' }).waitFor();
  const told = page.locator('.notification-toast', { hasText: 'cannot be written. The answers are kept.' });
  // Nothing is known: Enter goes on from one question to the next.
  for (let asked = 0; asked < 60; asked++) {
    await title.or(told).first().waitFor();
    if (await told.isVisible()) break;
    const words = (await title.textContent()) ?? '';
    await page.keyboard.press('Enter');
    await title.filter({ hasText: words }).waitFor({ state: 'hidden' });
  }
  await told.waitFor();
  await workbench.runCommand('Swaplore: Record a Swap Outcome');
  await title.filter({ hasText: 'was broken off; go on with it?' }).waitFor();
  await page.keyboard.press('Escape');
}
