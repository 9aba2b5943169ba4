import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { PassThrough } from 'node:stream';
import { setImmediate, setTimeout } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import { afterAll, describe, inject } from 'vitest';
import {
  createConnection,
  createProtocolConnection,
  ExitNotification,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { parseDate } from '../../../server/src/core/terms/calendar.ts';
import { ClientStore } from '../../../server/src/host/client-store.ts';
import { clientFiles } from '../../../server/src/lsp/protocol.ts';
import { startServer } from '../../../server/src/lsp/server.ts';
import { lacksBrowser } from '../../harness/chromium.ts';
import { folderOf } from '../../harness/run-cli.ts';
import { closeBrowser, overBrowser } from './browser.ts';
import { Client, type ClientOptions, type Files, type Wire } from './client.ts';
import { lend, lentRoot } from './lend.ts';

/** Connects a client to a server over a base of these files; a plain config is added where none is given. */
export type Connect = (files: Files, options?: ClientOptions) => Promise<Client>;

/** Declares the same tests over every connection there is. */
export function overEveryConnection(declare: (connect: Connect) => void): void {
  const declareOver = (wire: Reach) => () => declare((files, options = {}) => connectOver(wire, files, options));
  describe('over streams in memory', declareOver(overMemory));
  describe('over the forked bundle', declareOver(overProcess));
  describe.skipIf(lacksBrowser)('over a browser worker', () => {
    afterAll(closeBrowser);
    declareOver(overBrowser)();
  });
}

/** The same over streams in memory alone, for questions about the wire that no connection answers differently. */
export const connectInMemory: Connect = (files, options = {}) => connectOver(overMemory, files, options);

/** Starts a server that reaches these files. */
type Reach = (files: Files, options: ClientOptions) => Wire | Promise<Wire>;

async function connectOver(reach: Reach, files: Files, options: ClientOptions): Promise<Client> {
  const all = { 'swaplore.yaml': 'swaplore: 1\n', ...files };
  const plain = Object.fromEntries(
    Object.entries(all).map(([path, file]) => [path, typeof file === 'string' ? file.replace('$0', '') : file]),
  );
  return Client.of(await reach(plain, options), all, options);
}

/** Today in tests that run in this process. */
const today = '2026-11-25';

/** A server in this process; the client lends it its files, which lie nowhere. */
function overMemory(files: Files, { listedFrom }: ClientOptions): Wire {
  const [toServer, toClient] = [new PassThrough(), new PassThrough()];
  const server = createConnection(new StreamMessageReader(toServer), new StreamMessageWriter(toClient));
  startServer(server, {
    version: '0.0.0',
    worldFor: (params) => {
      const lent = clientFiles(server, params);
      const store = lent && new ClientStore(lent);
      return {
        storeFor: () => store,
        revisionsFor: () => undefined,
        today: () => parseDate(today) ?? 0,
        nowMs: () => performance.now(),
        pause: (ms) => (ms > 0 ? setTimeout(ms) : setImmediate()),
      };
    },
  });
  const connection = createProtocolConnection(new StreamMessageReader(toClient), new StreamMessageWriter(toServer));
  return {
    connection,
    root: lentRoot,
    initializationOptions: { files: true },
    today,
    ...lend(connection, files, listedFrom),
    closed: () => {
      connection.dispose();
      server.dispose();
      return Promise.resolve();
    },
  };
}

/** The built command, over standard input and output; its files lie on disk. */
function overProcess(files: Files): Wire {
  const folder = folderOf(files);
  const server = spawn(process.execPath, [inject('builtCommand'), 'serve', '--stdio'], {
    env: { PATH: process.env['PATH'], XDG_CACHE_HOME: inject('cacheHome') },
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  const ended = once(server, 'exit');
  const connection = createProtocolConnection(
    new StreamMessageReader(server.stdout),
    new StreamMessageWriter(server.stdin),
  );
  return {
    connection,
    root: pathToFileURL(folder).href,
    initializationOptions: {},
    asked: [],
    write: (path, text) => {
      const file = join(folder, path);
      mkdirSync(dirname(file), { recursive: true });
      if (text === undefined) rmSync(file);
      else writeFileSync(file, text);
    },
    closed: async () => {
      await connection.sendNotification(ExitNotification.type);
      const [code] = await ended;
      if (code !== 0) throw new Error(`The server ended with exit code ${code}.`);
      connection.dispose();
    },
  };
}
