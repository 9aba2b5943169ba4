import { type Browser, chromium } from 'playwright-core';
import { inject } from 'vitest';

const endpoint = inject('browserEndpoint');

/** Whether no browser is at hand, and nobody insists on one. */
export const lacksBrowser = endpoint === undefined;

/** The browser that all tests share, over a connection of its own. Whoever opens that closes it. */
export function connectBrowser(): Promise<Browser> {
  return chromium.connect(endpoint ?? '');
}
