import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { PassThrough } from 'node:stream';
import { setImmediate, setTimeout } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import { describe, inject } from 'vitest';
import {
  createConnection,
  createProtocolConnection,
  ExitNotification,
  type ProtocolConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { parseDate } from '../../../server/src/core/terms/calendar.ts';
import { ClientStore } from '../../../server/src/host/client-store.ts';
import { clientFiles, listFilesRequest, readFilesRequest } from '../../../server/src/lsp/protocol.ts';
import { startServer } from '../../../server/src/lsp/server.ts';
import { folderOf } from '../../harness/run-cli.ts';
import { Client, type ClientOptions, type Files, type Wire } from './client.ts';

/** Connects a client to a server over a base of these files; a plain config is added where none is given. */
export type Connect = (files: Files, options?: ClientOptions) => Promise<Client>;

/** Declares the same tests over every connection there is. */
export function overEveryConnection(declare: (connect: Connect) => void): void {
  for (const [name, wire] of Object.entries(wires)) {
    describe(`over ${name}`, () => declare((files, options = {}) => connectOver(wire, files, options)));
  }
}

/** The same over streams in memory alone, for questions about the wire that no connection answers differently. */
export const connectInMemory: Connect = (files, options = {}) => connectOver(overMemory, files, options);

function connectOver(
  wire: (files: Files, options: ClientOptions) => Wire,
  files: Files,
  options: ClientOptions,
): Promise<Client> {
  const all = { 'swaplore.yaml': 'swaplore: 1\n', ...files };
  const plain = Object.fromEntries(Object.entries(all).map(([path, text]) => [path, text.replace('$0', '')]));
  return Client.of(wire(plain, options), all, options);
}

/** Today in tests that run in this process. */
const today = parseDate('2026-11-25') ?? 0;

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
        today: () => today,
        nowMs: () => performance.now(),
        pause: (ms) => (ms > 0 ? setTimeout(ms) : setImmediate()),
      };
    },
  });
  const connection = createProtocolConnection(new StreamMessageReader(toClient), new StreamMessageWriter(toServer));
  const write = lend(connection, files, listedFrom);
  return {
    connection,
    root: 'bench:/shelf',
    initializationOptions: { files: true },
    write,
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

/** Answers a server that asks for files. Gives what changes them. */
export function lend(connection: ProtocolConnection, files: Files, listedFrom?: Promise<void>): Wire['write'] {
  const current = new Map(Object.entries(files));
  const root = 'bench:/shelf';
  const below = (folder: string) => (folder === root ? '' : `${folder.slice(root.length + 1)}/`);
  connection.onRequest(listFilesRequest, async ({ folder }) => {
    await listedFrom;
    const paths = [...current.keys()].filter((path) => path.startsWith(below(folder)) && /\.ya?ml$/.test(path));
    return { paths: paths.map((path) => path.slice(below(folder).length)) };
  });
  connection.onRequest(readFilesRequest, ({ folder, paths }) => ({
    files: paths.map((path) => {
      const text = folder.startsWith(root) ? current.get(below(folder) + path) : undefined;
      return text === undefined
        ? { reason: 'nothing is there', isMissing: true }
        : { base64: Buffer.from(text).toString('base64') };
    }),
  }));
  return (path, text) => {
    if (text === undefined) current.delete(path);
    else current.set(path, text);
  };
}

const wires = { 'streams in memory': overMemory, 'the forked bundle': overProcess };
