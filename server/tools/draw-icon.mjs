// Draws media/icon.png from media/icon.svg, in Debian's Chromium. Galleries take no SVG.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

const media = new URL('../../media/', import.meta.url);
const size = 128;
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium' });
const page = await browser.newPage({ viewport: { width: size, height: size } });
await page.setContent(`<style>body { margin: 0 }</style>${readFileSync(new URL('icon.svg', media), 'utf8')}`);
await page.screenshot({ path: fileURLToPath(new URL('icon.png', media)), omitBackground: true });
await browser.close();
