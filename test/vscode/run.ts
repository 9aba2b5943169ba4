// Runs the tests that need a real VS Code: the same suites in every VS Code that is at hand. With a path, writes the counts there.
import { rmSync, writeFileSync } from 'node:fs';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { launchBrowser } from './launch/browser.ts';
import type { Host, HostOptions } from './launch/host.ts';
import { type HostKind, hosts } from './launch/hosts.ts';
import { openWorkbench } from './launch/open-workbench.ts';
import { type PreparedFolder, prepareBare, prepareBase } from './launch/prepare-folder.ts';
import { runInPage } from './launch/run-in-page.ts';
import { desktopProgram, runOnDesktop } from './launch/run-on-desktop.ts';
import type { SuiteCounts } from './launch/suite-counts.ts';
import { browseRecords } from './ui/browse-records.ts';
import { recordOutcome } from './ui/record-outcome.ts';
import { followReportPanel } from './ui/report-panel.ts';

const extension = fileURLToPath(new URL('../../', import.meta.url));
const bundles = fileURLToPath(new URL('dist/', import.meta.url));
const suites = [
  { name: 'with-base', prepare: prepareBase },
  { name: 'without-base', prepare: prepareBare },
] as const;
/** What is tried from outside, with keys and mouse, each in a window of its own. */
const trials = [
  { name: 'the report opens from the palette, leads to places and follows changes', run: followReportPanel },
  { name: 'records are browsed by keyboard, down to the place of one', run: browseRecords },
  { name: 'an outcome is recorded, with a step back and a break', run: recordOutcome },
] as const;

const total = { passed: 0, failed: 0, skipped: 0 };

function add({ passed, failed, skipped }: SuiteCounts): void {
  total.passed += passed;
  total.failed += failed;
  total.skipped += skipped;
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

/** Runs one thing over a folder of its own, and says how long that took. */
async function runOver(
  { path, remove }: PreparedFolder,
  name: string,
  run: (folder: string) => Promise<SuiteCounts>,
): Promise<void> {
  const begun = performance.now();
  try {
    add(await run(path));
  } catch (error) {
    console.error(error);
    total.failed++;
  } finally {
    remove();
  }
  console.log(`  ${name}: ${((performance.now() - begun) / 1000).toFixed(1)} s`);
}

/** Runs every suite in one VS Code. */
async function runSuites(
  platform: HostKind['platform'],
  run: (folder: string, suite: string) => Promise<SuiteCounts>,
): Promise<void> {
  await bundle(platform);
  for (const { name, prepare } of suites) {
    await runOver(prepare(), name, (folder) => run(folder, `${bundles}${platform}/${name}.cjs`));
  }
}

async function runInPages({ platform, start }: HostKind): Promise<void> {
  const browser = await launchBrowser();
  const withHost = async (options: HostOptions, use: (host: Host) => Promise<SuiteCounts>): Promise<SuiteCounts> => {
    const host = await start(options);
    try {
      return await use(host);
    } finally {
      await host.stop();
    }
  };
  try {
    await runSuites(platform, (folder, suite) =>
      withHost({ folder, extension, suite }, (host) => runInPage(browser, host)),
    );
    for (const { name, run } of trials) {
      await runOver(prepareBase(), name, (folder) =>
        withHost({ folder, extension }, async (host) => {
          await run(await openWorkbench(browser, host));
          return { passed: 1, failed: 0, skipped: 0 };
        }),
      );
    }
  } finally {
    await browser.close();
  }
}

for (const host of hosts) {
  console.log(`\n${host.name}`);
  if (host.lacks === undefined) {
    await runInPages(host);
    continue;
  }
  console.log(`skipped: ${host.name}: ${host.lacks}`);
  if (process.env['SWAPLORE_NEEDS_EDITORS'] === undefined) total.skipped += suites.length + trials.length;
  else total.failed += suites.length + trials.length;
}
console.log('\nVS Code on a desktop');
if (desktopProgram === undefined) {
  console.log('skipped: VS Code on a desktop: VSCODE_EXECUTABLE does not name its program');
  total.skipped += suites.length;
} else {
  const program = desktopProgram;
  await runSuites('node', (folder, suite) => runOnDesktop({ program, folder, extension, suite }));
}
rmSync(bundles, { recursive: true, force: true });

console.log(`\n${total.passed} passed, ${total.failed} failed, ${total.skipped} skipped`);
const [countsFile] = process.argv.slice(2);
if (countsFile !== undefined) writeFileSync(countsFile, JSON.stringify(total));
process.exitCode = total.failed > 0 ? 1 : 0;
