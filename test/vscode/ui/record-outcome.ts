import type { Locator, Page } from 'playwright-core';
import { type Given, recordedAnswers, recordedText } from '../../harness/recorded-answers.ts';
import type { Workbench } from './workbench.ts';

/** Records an outcome from the palette, stops midway and goes on, and sees the record in an editor, without a finding. Throws where something does not appear. */
export async function recordOutcome({ page }: Workbench): Promise<void> {
  await page.locator('.statusbar-item', { hasText: 'Swaplore: 1 error' }).waitFor();
  await command(page, 'Record a Swap Outcome');
  const input = page.locator('.quick-input-widget');
  const half = Math.floor(recordedAnswers.length / 2);
  for (const [asks, given] of recordedAnswers.slice(0, half)) {
    await answer(input, asks, given);
  }
  await titled(input, recordedAnswers[half]?.[0] ?? '').waitFor();
  await page.keyboard.press('Escape');
  await input.waitFor({ state: 'hidden' });
  await command(page, 'Record a Swap Outcome');
  await answer(input, 'Recording of the outcome was broken off; go on with it?', { pick: 'go on' });
  for (const [asks, given] of recordedAnswers.slice(half)) await answer(input, asks, given);
  await page.locator('.tab', { hasText: '-tansy-311-312.yaml' }).waitFor();
  // Nothing is found in it, so the cursor stands at its end. Lines out of sight are not drawn.
  await page.locator('.statusbar-item', { hasText: 'Ln 24, Col 1' }).waitFor();
  await page.keyboard.press('Control+Home');
  const lines = page.locator('.editor-instance .view-line');
  for (const line of recordedText.trimEnd().split('\n')) {
    await lines
      .filter({ hasText: line.replaceAll(' ', '\u00a0').trim() })
      .first()
      .waitFor();
  }
  // Nothing but the fault that was there before.
  await page.locator('.statusbar-item', { hasText: 'Swaplore: 1 error' }).waitFor();
  if ((await page.locator('.editor-instance .squiggly-error, .editor-instance .squiggly-warning').count()) > 0) {
    throw new Error('Something is found in the record.');
  }
}

async function command(page: Page, title: string): Promise<void> {
  await page.keyboard.press('F1');
  await page.locator('.quick-input-widget input.input').fill(`>Swaplore: ${title}`);
  await page.locator('.quick-input-list .monaco-list-row', { hasText: title }).first().waitFor();
  await page.keyboard.press('Enter');
}

function titled(input: Locator, title: string): Locator {
  return input.locator('.quick-input-title', { hasText: title });
}

async function answer(input: Locator, asks: string, given: Given): Promise<void> {
  await titled(input, asks).waitFor();
  const page = input.page();
  if ('back' in given) {
    await input.getByRole('button', { name: 'Back' }).click();
    return;
  }
  const box = input.locator('input.input');
  if ('pick' in given) await box.fill(given.pick);
  if ('type' in given) await box.fill(given.type);
  if ('mark' in given) {
    for (const label of given.mark) {
      await input.locator('.monaco-list-row', { hasText: label }).first().click();
    }
  }
  if ('pick' in given) await input.locator('.monaco-list-row', { hasText: given.pick }).first().waitFor();
  await page.keyboard.press('Enter');
  await titled(input, asks).waitFor({ state: 'hidden' });
}
