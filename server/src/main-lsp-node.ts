/** The language server on a machine with disks: over standard input and output, or over the channel of the process that forked it. */
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { setImmediate, setTimeout } from 'node:timers/promises';
import {
  createConnection,
  IPCMessageReader,
  IPCMessageWriter,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { ClientStore } from './host/client-store.ts';
import { findCacheFolder } from './host/disk/cache-folder.ts';
import { DiskStore } from './host/disk/disk-store.ts';
import { findGit } from './host/git/find-git.ts';
import { GitRevisions } from './host/git/git-revisions.ts';
import { systemDay } from './host/system-day.ts';
import { clientFiles } from './lsp/protocol.ts';
import { startServer } from './lsp/server.ts';

/** Set by the build: from package.json, and a digest of all that was bundled. */
declare const SWAPLORE_VERSION: string;
declare const SWAPLORE_BUILD: string;

const { argv, env, platform, stdin, stdout } = process;
const caches = findCacheFolder(env, platform);
const memory = { cacheFolder: caches && join(caches, SWAPLORE_BUILD), loader: join(__dirname, 'main-loader.cjs') };
const disk = new DiskStore(memory);
const git = findGit(env, platform);
const revisions = git && new GitRevisions({ git, ...memory });
const connection = argv.includes('--node-ipc')
  ? createConnection(new IPCMessageReader(process), new IPCMessageWriter(process))
  : createConnection(new StreamMessageReader(stdin), new StreamMessageWriter(stdout));

startServer(connection, {
  version: SWAPLORE_VERSION,
  worldFor: (params) => {
    const files = clientFiles(connection, params);
    const virtual = files && new ClientStore(files);
    return {
      storeFor: (uri) => (uri.startsWith('file:') ? disk : virtual),
      revisionsFor: (uri) => (uri.startsWith('file:') ? revisions : undefined),
      today: systemDay,
      nowMs: () => performance.now(),
      pause: (ms) => (ms > 0 ? setTimeout(ms) : setImmediate()),
    };
  },
});
