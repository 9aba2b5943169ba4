import { hasBrowser } from './browser.ts';
import type { Host, HostOptions } from './host.ts';
import { hasNodeHost, startNodeHost } from './node-host.ts';
import { hasWebHost, startWebHost } from './web-host.ts';

/** A VS Code that runs here in a page. */
export interface HostKind {
  readonly name: string;
  /** What suites are bundled for. */
  readonly platform: 'node' | 'browser';
  /** Why it cannot run here; undefined where it can. */
  readonly lacks: string | undefined;
  readonly start: (options: HostOptions) => Promise<Host>;
}

/** Both of them. */
export const hosts = [
  {
    name: 'VS Code server, with its extension host in Node',
    platform: 'node',
    lacks: lacking(hasNodeHost, 'node'),
    start: startNodeHost,
  },
  {
    name: 'VS Code in a browser, with its extension host in a worker',
    platform: 'browser',
    lacks: lacking(hasWebHost, 'web'),
    start: startWebHost,
  },
] as const satisfies readonly HostKind[];

function lacking(isInstalled: boolean, name: string): string | undefined {
  if (!isInstalled) return `\`npm ci --prefix test/vscode/hosts/${name}\` installs it`;
  return hasBrowser ? undefined : 'there is no /usr/bin/chromium';
}
