import { performance } from 'node:perf_hooks';
import { PassThrough } from 'node:stream';
import { setImmediate, setTimeout } from 'node:timers/promises';
import fc from 'fast-check';
import {
  createConnection,
  createProtocolConnection,
  DidChangeTextDocumentNotification,
  DidOpenTextDocumentNotification,
  ErrorCodes,
  InitializedNotification,
  InitializeRequest,
  LogMessageNotification,
  LSPErrorCodes,
  type ProtocolConnection,
  RegistrationRequest,
  ResponseError,
  ShutdownRequest,
  StreamMessageReader,
  StreamMessageWriter,
  WorkDoneProgressCreateRequest,
} from 'vscode-languageserver/node';
import { parseDate } from '../../server/src/core/terms/calendar.ts';
import { ClientStore } from '../../server/src/host/client-store.ts';
import { clientFiles } from '../../server/src/lsp/protocol.ts';
import { startServer } from '../../server/src/lsp/server.ts';
import { arbitraryDamage, damageText } from '../harness/arbitrary-damage.ts';
import { arbitraryFile } from '../harness/arbitrary-edit.ts';
import { ternBench } from '../harness/tern-bench.ts';
import { lend, lentRoot } from '../lsp/harness/lend.ts';
import { madeTarget, type Target } from './target.ts';

/** A connection to a server in this process, with what it takes to end both. */
interface Session {
  readonly connection: ProtocolConnection;
  /** What the server wrote to the log, the newest last. */
  readonly logged: readonly string[];
  readonly end: () => Promise<void>;
}

const path = 'zz/fuzzed.yaml';
const uri = `${lentRoot}/${path}`;

/** Begins a server over a small base that holds one more file, which is open. */
async function begin(): Promise<Session> {
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
        today: () => parseDate('2026-11-25') ?? 0,
        nowMs: () => performance.now(),
        pause: (ms) => (ms > 0 ? setTimeout(ms) : setImmediate()),
      };
    },
  });
  const connection = createProtocolConnection(new StreamMessageReader(toClient), new StreamMessageWriter(toServer));
  lend(connection, { ...ternBench, [path]: '' });
  connection.onRequest(RegistrationRequest.type, () => undefined);
  connection.onRequest(WorkDoneProgressCreateRequest.type, () => undefined);
  const logged: string[] = [];
  connection.onNotification(LogMessageNotification.type, ({ message }) => void logged.push(message));
  connection.listen();
  await connection.sendRequest(InitializeRequest.type, {
    ...{ processId: null, rootUri: null, workspaceFolders: [{ uri: lentRoot, name: 'base' }] },
    capabilities: { workspace: { workspaceFolders: true, workspaceEdit: { documentChanges: true } } },
    initializationOptions: { files: true },
  });
  await connection.sendNotification(InitializedNotification.type, {});
  const textDocument = { uri, languageId: 'yaml', version: 1, text: '' };
  await connection.sendNotification(DidOpenTextDocumentNotification.type, { textDocument });
  return {
    connection,
    logged,
    end: async () => {
      await connection.sendRequest(ShutdownRequest.type);
      connection.dispose();
      server.dispose();
    },
  };
}

/** The session, for as many samples as it is good for. */
let session: { readonly opened: Promise<Session>; version: number } | undefined;

const samplesOfSession = 200;

async function endSession(): Promise<void> {
  const ended = session;
  session = undefined;
  await (await ended?.opened)?.end();
}

const lines = fc.oneof({ weight: 6, arbitrary: fc.nat(40) }, fc.constantFrom(0, 1_000_000, 2_147_483_647, -1));
const position = fc.record({ line: lines, character: lines });
const range = fc.record({ start: position, end: position });
const textDocument = fc.constantFrom(
  { uri },
  { uri },
  { uri },
  { uri },
  { uri: `${lentRoot}/nowhere.yaml` },
  { uri: 'a' },
);
const text = fc.tuple(arbitraryFile, fc.option(arbitraryDamage)).map(([whole, damage]) => {
  const [document = ''] = whole.split(/^---\n/m);
  return damage ? damageText(document, damage) : document;
});

/** Requests at a place, with params of their own. */
const placed = {
  'textDocument/hover': {},
  'textDocument/completion': {},
  'textDocument/definition': {},
  'textDocument/references': { context: fc.record({ includeDeclaration: fc.boolean() }) },
  'textDocument/documentHighlight': {},
  'textDocument/prepareRename': {},
  'textDocument/rename': { newName: fc.oneof(fc.string(), fc.constantFrom('d-0119', 'wren', '')) },
  'textDocument/selectionRange': { positions: fc.array(position, { maxLength: 3 }) },
  'textDocument/inlayHint': { range },
  'textDocument/codeAction': { range, context: fc.constant({ diagnostics: [] }) },
  'textDocument/rangeFormatting': { range, options: fc.constant({ tabSize: 2, insertSpaces: true }) },
  'textDocument/formatting': { options: fc.constant({ tabSize: 2, insertSpaces: true }) },
  'textDocument/documentSymbol': {},
  'textDocument/documentLink': {},
  'textDocument/foldingRange': {},
  'textDocument/codeLens': {},
  'textDocument/diagnostic': {},
  'workspace/symbol': { query: fc.string() },
} satisfies Readonly<Record<string, Readonly<Record<string, fc.Arbitrary<unknown>>>>>;

const request = fc.oneof(
  ...Object.entries(placed).map(([method, own]) =>
    fc.record({ method: fc.constant(method), params: fc.record({ textDocument, position, ...own }) }),
  ),
);

/** What a client sends: a change of the text, whole or at a range, and then a request. */
const arbitraryStep = fc.record({
  change: fc.option(
    fc.oneof(
      text.map((whole) => ({ text: whole })),
      fc.record({ range, text: fc.string({ maxLength: 6 }) }),
    ),
  ),
  request,
});

/** Answers that are no failure: what was asked for cannot be done, or has been overtaken. */
const refusals: ReadonlySet<number> = new Set([
  ...[LSPErrorCodes.RequestFailed, LSPErrorCodes.ContentModified, LSPErrorCodes.ServerCancelled],
  ...[LSPErrorCodes.RequestCancelled, ErrorCodes.InvalidParams, ErrorCodes.InvalidRequest],
]);

/** Longest an answer may take. */
const answerMs = 20_000;

const server = madeTarget({
  ...{ name: 'server', runsInSuite: 120, runs: 5_000, limitMs: 4_000 },
  feeds: 'changes and requests at random places of random texts, to a language server in memory',
  holds: 'every request is answered, and none with an internal error',
  samples: arbitraryStep,
  run: async ({ change, request: { method, params } }) => {
    if (session && session.version > samplesOfSession) await endSession();
    session ??= { opened: begin(), version: 1 };
    const { connection, logged } = await session.opened;
    const version = ++session.version;
    if (change) {
      const changes = { textDocument: { uri, version }, contentChanges: [change] };
      await connection.sendNotification(DidChangeTextDocumentNotification.type, changes);
    }
    const tooLate = new AbortController();
    const late = setTimeout(answerMs, 'late', { signal: tooLate.signal }).catch(() => 'answered');
    try {
      const answer = await Promise.race([connection.sendRequest(method, params), late]);
      if (answer === 'late') throw new Error(`${method} is not answered.`);
    } catch (error) {
      if (error instanceof ResponseError && refusals.has(error.code)) return;
      throw new Error(`${method} fails: ${logged.at(-1)}`, { cause: error });
    } finally {
      tooLate.abort();
    }
  },
  end: endSession,
});

/** The language server. */
export const serverTargets: readonly Target[] = [server];
