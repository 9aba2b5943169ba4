import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { type Host, type HostOptions, quietSettings } from './host.ts';

const packages = fileURLToPath(new URL('../hosts/node/node_modules/', import.meta.url));
const vscode = join(packages, 'code-server', 'lib', 'vscode');
const server = join(vscode, 'out', 'server-main.js');

/** Whether the server of VS Code is installed. */
export const hasNodeHost = existsSync(server);

/** Time the server has to come up. */
const startMs = 30_000;

/** Starts the server of VS Code, whose extension host runs in Node and reads the disk. */
export async function startNodeHost({ folder, extension, suite, settings }: HostOptions): Promise<Host> {
  // It looks for its packages beside itself.
  if (!existsSync(join(vscode, 'node_modules'))) symlinkSync(packages, join(vscode, 'node_modules'), 'junction');
  const data = mkdtempSync(join(tmpdir(), 'swaplore-vscode-'));
  mkdirSync(join(data, 'data', 'User'), { recursive: true });
  mkdirSync(join(data, 'tmp'));
  writeFileSync(join(data, 'data', 'User', 'settings.json'), JSON.stringify({ ...quietSettings, ...settings }));
  const flags = ['--without-connection-token', '--accept-server-license-terms', '--disable-telemetry'];
  const child = spawn(
    process.execPath,
    // On this level the lines of the suites are passed on.
    [server, '--host', '127.0.0.1', '--port', '0', '--server-data-dir', data, '--log', 'info', ...flags],
    {
      detached: true,
      stdio: ['ignore', 'pipe', 'pipe'],
      env: { ...process.env, EXTENSIONS_GALLERY: '{}', XDG_RUNTIME_DIR: data, TMPDIR: join(data, 'tmp') },
    },
  );
  const stop = async () => {
    await endGroup(child);
    rmSync(data, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  };
  try {
    const port = await portOf(child);
    const uri = (path: string) => `vscode-remote://127.0.0.1:${port}${encodeURI(path)}`;
    const payload = [
      ...(extension ? [['extensionDevelopmentPath', uri(extension)]] : []),
      ...(suite ? [['extensionTestsPath', uri(suite)]] : []),
    ];
    const query = new URLSearchParams({ folder, payload: JSON.stringify(payload) });
    return { url: `http://127.0.0.1:${port}/?${query}`, prepare: async () => undefined, stop };
  } catch (error) {
    await stop();
    throw error;
  }
}

/** The port the server chose. */
function portOf(child: ChildProcess): Promise<number> {
  let log = '';
  const { promise, resolve, reject } = withResolvers<number>();
  const fail = (what: string) => reject(new Error(`The server of VS Code ${what}:\n${log}`));
  const hear = (text: Buffer) => {
    log += text;
    const port = /Extension host agent listening on (\d+)/.exec(log)?.[1];
    if (port) resolve(Number(port));
  };
  child.stdout?.on('data', hear);
  child.stderr?.on('data', hear);
  child.once('exit', () => fail('ended'));
  void setTimeout(startMs, undefined, { ref: false }).then(() => fail('did not start'));
  return promise;
}

function withResolvers<T>() {
  let resolve: (value: T) => void = () => undefined;
  let reject: (error: Error) => void = () => undefined;
  const promise = new Promise<T>((one, other) => {
    resolve = one;
    reject = other;
  });
  return { promise, resolve, reject };
}

/** Ends a process and those it started: the extension host and the language server among them. */
async function endGroup(child: ChildProcess): Promise<void> {
  const { pid } = child;
  if (pid === undefined) return;
  const signal = (name: NodeJS.Signals) => {
    try {
      process.kill(-pid, name);
    } catch {
      // All of them are gone.
    }
  };
  const isGone = child.exitCode !== null || child.signalCode !== null;
  signal('SIGTERM');
  if (!isGone) await Promise.race([once(child, 'exit'), setTimeout(5000)]);
  signal('SIGKILL');
  await setTimeout(100);
}
