// Runs the tests that need a real VS Code: the same suites in every host that is at hand. The last line is JSON: counts, and which
// hosts were skipped.
import { rmSync } from 'node:fs';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import type { Browser } from 'playwright-core';
import { lacksBrowser, launchBrowser } from '../harness/chromium.ts';
import type { Host, HostOptions } from './launch/host.ts';
import { hasNodeHost, startNodeHost } from './launch/node-host.ts';
import { type PreparedFolder, prepareBare, prepareBase } from './launch/prepare-folder.ts';
import { runInPage } from './launch/run-in-page.ts';
import { hasWebHost, startWebHost } from './launch/web-host.ts';

const project = fileURLToPath(new URL('../../', import.meta.url));
const bundles = fileURLToPath(new URL('dist/', import.meta.url));
const needsHosts = process.env['SWAPLORE_NEEDS_VSCODE'] !== undefined;

const suites: readonly { readonly name: string; readonly folder: () => PreparedFolder }[] = [
  { name: 'with-base', folder: prepareBase },
  { name: 'without-base', folder: prepareBare },
];

interface HostKind {
  readonly name: string;
  /** Why it cannot run here; undefined where it can. */
  readonly lacks: string | undefined;
  readonly platform: 'node' | 'browser';
  readonly start: (options: HostOptions) => Promise<Host>;
}

const hosts: readonly HostKind[] = [
  {
    name: 'VS Code server, extension host in Node',
    lacks: reason(hasNodeHost, 'node'),
    platform: 'node',
    start: startNodeHost,
  },
  {
    name: 'VS Code in a browser, extension host in a worker',
    lacks: reason(hasWebHost, 'web'),
    platform: 'browser',
    start: startWebHost,
  },
];

function reason(isInstalled: boolean, name: string): string | undefined {
  if (!isInstalled) return `not installed: npm ci --prefix test/vscode/hosts/${name}`;
  return hasBrowser ? undefined : 'no /usr/bin/chromium';
}

async function bundle(platform: HostKind['platform']): Promise<void> {
  await build({
    entryPoints: suites.map(({ name }) => fileURLToPath(new URL(`suite/${name}.ts`, import.meta.url))),
    outdir: `${bundles}${platform}`,
    outExtension: { '.js': '.cjs' },
    bundle: true,
    format: 'cjs',
    platform,
    external: ['vscode'],
    define: { global: 'globalThis' },
    logLevel: 'warning',
  });
}

const total = { passed: 0, failed: 0, skipped: 0 };

async function runHost({ platform, start }: HostKind, browser: Browser): Promise<void> {
  await bundle(platform);
  for (const suite of suites) {
    const begun = performance.now();
    const folder = suite.folder();
    let host: Host | undefined;
    try {
      host = await start({ folder: folder.path, extension: project, suite: `${bundles}${platform}/${suite.name}.cjs` });
      const counts = await runInPage(browser, host);
      total.passed += counts.passed;
      total.failed += counts.failed;
      total.skipped += counts.skipped;
      if (counts.passed + counts.failed === 0) throw new Error('No test ran.');
    } catch (error) {
      console.error(error);
      total.failed++;
    } finally {
      await host?.stop();
      folder.remove();
    }
    console.log(`  ${suite.name}: ${((performance.now() - begun) / 1000).toFixed(1)} s`);
  }
}

const runnable = hosts.filter(({ lacks }) => lacks === undefined);
for (const { name, lacks } of hosts) {
  if (lacks === undefined) continue;
  console.log(`skipped: ${name} (${lacks})`);
  if (needsHosts) total.failed++;
  else total.skipped++;
}
if (runnable.length > 0) {
  const browser = await launchBrowser();
  try {
    for (const host of runnable) {
      console.log(`\n${host.name}`);
      await runHost(host, browser);
    }
  } finally {
    await browser.close();
    rmSync(bundles, { recursive: true, force: true });
  }
}
console.log(JSON.stringify(total));
process.exitCode = total.failed > 0 ? 1 : 0;
