import type { Page } from 'playwright-core';

/** Watches a page, from before it goes anywhere. Gives what it does that no page of ours may do, to be read at any time. */
export function guardPage(page: Page): readonly string[] {
  const harm: string[] = [];
  page.on('request', (request) => {
    const { protocol, hostname } = new URL(request.url());
    const isHere = hostname === '127.0.0.1' || /(^|\.)localhost$/.test(hostname);
    if (/^(https?|wss?):$/.test(protocol) && !isHere) harm.push(`asks for ${request.url()}`);
  });
  page.on('dialog', (dialog) => {
    harm.push(`shows a dialog: ${dialog.message()}`);
    void dialog.dismiss();
  });
  page.on('popup', (popup) => harm.push(`opens another page: ${popup.url()}`));
  page.on('crash', () => harm.push('crashes'));
  return harm;
}
