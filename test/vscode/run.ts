// Runs the tests that need a real VS Code: the same suites in every VS Code that is at hand. With a path, writes the counts there.
import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import type { Browser } from 'playwright-core';
import { launchBrowser } from './launch/browser.ts';
import type { Host, HostOptions } from './launch/host.ts';
import { type HostKind, hosts } from './launch/hosts.ts';
import { openWorkbench } from './launch/open-workbench.ts';
import {
  type PreparedFolder,
  prepareBare,
  prepareBase,
  prepareHostile,
  prepareRepository,
  prepareUnwritable,
} from './launch/prepare-folder.ts';
import { runInPage } from './launch/run-in-page.ts';
import { desktopProgram, runOnDesktop } from './launch/run-on-desktop.ts';
import type { SuiteCounts } from './launch/suite-counts.ts';
import { browseRecords } from './ui/browse-records.ts';
import { editRecords } from './ui/edit-records.ts';
import { expectReportsReadWell } from './ui/expect-reports-read-well.ts';
import { keepAnswers } from './ui/keep-answers.ts';
import { openHostileBase } from './ui/open-hostile-base.ts';
import { recordOutcome } from './ui/record-outcome.ts';
import { followReportPanel } from './ui/report-panel.ts';
import { reviewChanges } from './ui/review-changes.ts';
import { showEvidence } from './ui/show-evidence.ts';
import { showFamilies } from './ui/show-families.ts';
import type { Workbench } from './ui/workbench.ts';

const extension = fileURLToPath(new URL('../../', import.meta.url));
const bundles = fileURLToPath(new URL('dist/', import.meta.url));
const suites = [
  { name: 'with-base', prepare: prepareBase },
  { name: 'without-base', prepare: prepareBare },
] as const;
interface Trial {
  readonly name: string;
  readonly run: (workbench: Workbench) => Promise<void>;
}

/** What one window is opened over, and what is tried in it with keys and mouse, one after the other. */
interface TriedWindow {
  readonly name: string;
  /** Whether one host is enough for what takes this long. */
  readonly isOfNodeOnly?: true;
  readonly prepare: () => PreparedFolder;
  readonly settings?: HostOptions['settings'];
  readonly trials: readonly Trial[];
}

const windows: readonly [TriedWindow, ...TriedWindow[]] = [
  {
    name: 'a window over a base',
    prepare: prepareBase,
    trials: [
      { name: 'lets records be edited as any editor does', run: editRecords },
      { name: 'opens the report from the palette, leads to places and follows changes', run: followReportPanel },
    ],
  },
  {
    name: 'a window over a base with a history',
    prepare: prepareRepository,
    trials: [
      { name: 'lets its records be browsed by keyboard, down to the place of one', run: browseRecords },
      { name: 'asks for an outcome, with a step back and a break', run: recordOutcome },
      { name: 'traces captures and compares images of chips in panels', run: showEvidence },
      { name: 'reviews changes against a branch, or a folder where there is none', run: reviewChanges },
      { name: 'shows families from figures, from the overview and from the palette', run: showFamilies },
    ],
  },
  {
    name: 'a window over a base that cannot be written to',
    isOfNodeOnly: true,
    prepare: prepareUnwritable,
    trials: [{ name: 'says so, and keeps what was answered', run: keepAnswers }],
  },
  {
    name: 'a window in four themes',
    isOfNodeOnly: true,
    prepare: prepareBase,
    trials: [{ name: 'has reports that everybody can read', run: expectReportsReadWell }],
  },
  {
    name: 'a window over a hostile base',
    isOfNodeOnly: true,
    prepare: prepareHostile,
    // A question of the editor's own would stand in the way.
    settings: { 'editor.unusualLineTerminators': 'off', 'editor.hover.delay': 50 },
    trials: [{ name: 'shows what records hold as text, whatever it tries to be', run: openHostileBase }],
  },
];
/** Packs the extension, and says where it lies. */
function pack(): string {
  const packed = `${bundles}swaplore.vsix`;
  execFileSync(process.execPath, [`${extension}server/tools/package/write-vsix.mjs`, packed], { stdio: 'pipe' });
  return packed;
}

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
  const withHost = async <T>(options: HostOptions, use: (host: Host) => Promise<T>): Promise<T> => {
    const host = await start(options);
    try {
      return await use(host);
    } finally {
      await host.stop();
    }
  };
  const tryIn = ({ name, prepare, settings, trials }: TriedWindow, tried: () => Partial<HostOptions>) =>
    runOver(prepare(), name, (folder) =>
      withHost({ folder, ...tried(), ...(settings ? { settings } : {}) }, (host) => runTrials(browser, host, trials)),
    );
  try {
    await runSuites(platform, (folder, suite) =>
      withHost({ folder, extension, suite }, (host) => runInPage(browser, host)),
    );
    for (const tried of windows) {
      if (platform === 'node' || !tried.isOfNodeOnly) await tryIn(tried, () => ({ extension }));
    }
    if (platform === 'node') {
      await tryIn({ ...windows[0], name: 'the same as the first, with the extension installed' }, () => ({
        packed: pack(),
      }));
    }
  } finally {
    await browser.close();
  }
}

/** Tries one thing after the other in one window, and leaves a picture where one does not succeed. */
async function runTrials(browser: Browser, host: Host, trials: readonly Trial[]): Promise<SuiteCounts> {
  const counts = { passed: 0, failed: 0, skipped: 0 };
  const workbench = await openWorkbench(browser, host);
  for (const { name, run } of trials) {
    try {
      await run(workbench);
      if (workbench.harm.length > 0) throw new Error(`The page ${workbench.harm.join(', and ')}.`);
      console.log(`  ✓ ${name}`);
      counts.passed++;
    } catch (error) {
      const path = join(tmpdir(), `swaplore-failed-${Date.now()}.png`);
      await workbench.page.screenshot({ path });
      console.log(`  ✗ ${name}: ${error instanceof Error ? error.stack : error}\n    ${path} shows the window.`);
      counts.failed++;
    }
  }
  await workbench.page.close();
  return counts;
}

/** Runs all that a host in a page has to show. */
async function tryHost(host: HostKind): Promise<void> {
  console.log(`\n${host.name}`);
  if (host.lacks === undefined) return runInPages(host);
  console.log(`skipped: ${host.name}: ${host.lacks}`);
  const missed = suites.length + windows.flatMap(({ trials }) => trials).length;
  if (process.env['SWAPLORE_NEEDS_EDITORS'] === undefined) total.skipped += missed;
  else total.failed += missed;
}

/** Runs a host in a process of its own, and shows what that printed in one piece. Most of its time is spent waiting. */
async function tryApart({ platform }: HostKind): Promise<void> {
  const counts = join(mkdtempSync(join(tmpdir(), 'swaplore-counts-')), 'counts.json');
  const child = spawn(process.execPath, [...process.execArgv, fileURLToPath(import.meta.url), counts, platform], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const printed: Buffer[] = [];
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (data: Buffer) => printed.push(data));
  await once(child, 'close');
  console.log(Buffer.concat(printed).toString().trimEnd());
  try {
    add(JSON.parse(readFileSync(counts, 'utf8')));
  } catch {
    console.log(`  ✗ comes to its end in ${platform}`);
    total.failed++;
  }
  rmSync(dirname(counts), { recursive: true, force: true });
}

async function tryOnDesktop(): Promise<void> {
  console.log('\nVS Code on a desktop');
  if (desktopProgram === undefined) {
    console.log('skipped: VS Code on a desktop: VSCODE_EXECUTABLE does not name its program');
    total.skipped += suites.length;
    return;
  }
  const program = desktopProgram;
  await runSuites('node', (folder, suite) => runOnDesktop({ program, folder, extension, suite }));
}

const [countsFile, only] = process.argv.slice(2);
const host = hosts.find(({ platform }) => platform === only);
if (host) await tryHost(host);
else {
  await Promise.all(hosts.map(tryApart));
  await tryOnDesktop();
  rmSync(bundles, { recursive: true, force: true });
  console.log(`\n${total.passed} passed, ${total.failed} failed, ${total.skipped} skipped`);
}
if (countsFile !== undefined) writeFileSync(countsFile, JSON.stringify(total));
process.exitCode = total.failed > 0 ? 1 : 0;
