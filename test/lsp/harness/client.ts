import { setTimeout } from 'node:timers/promises';
import { onTestFinished } from 'vitest';
import {
  type ClientCapabilities,
  type Diagnostic,
  DidChangeTextDocumentNotification,
  DidChangeWatchedFilesNotification,
  DidCloseTextDocumentNotification,
  DidOpenTextDocumentNotification,
  FileChangeType,
  InitializedNotification,
  type InitializeParams,
  InitializeRequest,
  type InitializeResult,
  LogMessageNotification,
  type Position,
  type ProtocolConnection,
  type ProtocolRequestType,
  PublishDiagnosticsNotification,
  type PublishDiagnosticsParams,
  RegistrationRequest,
  ShutdownRequest,
  type TextDocumentContentChangeEvent,
  WorkDoneProgressCreateRequest,
} from 'vscode-languageserver/node';
import { LineIndex } from '../../../server/src/core/text/line-index.ts';
import { type BaseState, baseStateNotification } from '../../../server/src/lsp/protocol.ts';

/** Text, or the bytes of what is no text, by path; one file may hold the cursor `$0`. */
export type Files = Readonly<Record<string, string | Uint8Array>>;

/** How a client differs from the plain one. */
export interface ClientOptions {
  readonly capabilities?: ClientCapabilities;
  readonly initializationOptions?: Readonly<Record<string, unknown>>;
  /** Where the client lends its files: which there are is told only then. */
  readonly listedFrom?: Promise<void>;
}

/** How a connection reaches a server, and where its files lie. */
export interface Wire {
  readonly connection: ProtocolConnection;
  /** Address of the folder that holds the files. */
  readonly root: string;
  /** Options the connection needs the server to know. */
  readonly initializationOptions: Readonly<Record<string, unknown>>;
  write(path: string, text: string | undefined): void;
  /** The day the server takes for today; undefined for the system's. */
  readonly today?: string;
  /** What the server has asked the client for of its files, each a path or a folder with `/` behind it. */
  readonly asked: readonly string[];
  /** Ends the server, which has been shut down. Throws where it does not end as it should. */
  closed(): Promise<void>;
}

/** Longest a test waits for what takes a fraction of a second. */
const patienceMs = 20_000;

const plain: ClientCapabilities = {
  workspace: { workspaceFolders: true, didChangeWatchedFiles: { dynamicRegistration: true } },
  textDocument: { publishDiagnostics: { relatedInformation: true, versionSupport: true } },
  window: { workDoneProgress: true },
};

/** An editor as far as tests need one. */
export class Client {
  /** Every publication, in the order it came. */
  readonly published: PublishDiagnosticsParams[] = [];
  /** What the server wrote to the log. */
  readonly logged: string[] = [];
  /** How bases stood, as it came. */
  readonly baseStates: BaseState[] = [];
  /** Texts of progress, as they came. */
  readonly progress: string[] = [];
  private readonly versions = new Map<string, number>();
  private news: (() => void)[] = [];

  private constructor(
    private readonly wire: Wire,
    readonly initialized: InitializeResult,
    /** The texts without the cursor. */
    readonly files: Readonly<Record<string, string>>,
    private readonly cursorAt: { readonly path: string; readonly offset: number } | undefined,
  ) {}

  /** Connects to a server over a base of these files and shuts it down after the test. */
  static async of(
    wire: Wire,
    marked: Files,
    { capabilities = plain, initializationOptions }: ClientOptions,
  ): Promise<Client> {
    const { connection, root } = wire;
    const early: (() => void)[] = [];
    let client: Client | undefined;
    const later = (task: (client: Client) => void): void => {
      if (client) task(client);
      else early.push(() => client && task(client));
    };
    connection.onNotification(PublishDiagnosticsNotification.type, (params) =>
      later((c) => c.hear(c.published, params)),
    );
    connection.onNotification(LogMessageNotification.type, ({ message }) => later((c) => c.hear(c.logged, message)));
    connection.onNotification(baseStateNotification, (state) => later((c) => c.hear(c.baseStates, state)));
    connection.onNotification('$/progress', ({ value }: { value: { kind: string; title?: string } }) =>
      later((c) => c.hear(c.progress, value.title ?? value.kind)),
    );
    connection.onRequest(RegistrationRequest.type, () => undefined);
    connection.onRequest(WorkDoneProgressCreateRequest.type, () => undefined);
    connection.listen();
    const params: InitializeParams = {
      processId: null,
      rootUri: null,
      workspaceFolders: [{ uri: root, name: 'base' }],
      capabilities,
      initializationOptions: { ...wire.initializationOptions, ...initializationOptions },
    };
    const initialized = await connection.sendRequest(InitializeRequest.type, params);
    const texts = Object.entries(marked).flatMap(([path, file]) =>
      typeof file === 'string' ? [[path, file] as const] : [],
    );
    const cursor = texts.find(([, text]) => text.includes('$0'));
    const files = Object.fromEntries(texts.map(([path, text]) => [path, text.replace('$0', '')]));
    client = new Client(wire, initialized, files, cursor && { path: cursor[0], offset: cursor[1].indexOf('$0') });
    for (const task of early) task();
    await connection.sendNotification(InitializedNotification.type, {});
    onTestFinished(() => client?.shutDown());
    return client;
  }

  /** The address of a file of the base. */
  uriOf(path: string): string {
    return `${this.wire.root}/${path}`;
  }

  /** The path of a file by its address. */
  pathOf(uri: string): string {
    return decodeURIComponent(uri.slice(this.wire.root.length + 1));
  }

  /** Sends a request. */
  ask<P, R, PR, E, RO>(type: ProtocolRequestType<P, R, PR, E, RO>, params: P): Promise<R> {
    return this.connection.sendRequest(type.method, params);
  }

  /** The connection itself, for what has no method here. */
  get connection(): ProtocolConnection {
    return this.wire.connection;
  }

  /** What the server has asked for of files the client lends. */
  get asked(): readonly string[] {
    return this.wire.asked;
  }

  /** The day the server takes for today; undefined for the system's. */
  get today(): string | undefined {
    return this.wire.today;
  }

  /** Opens a file, with the text it has on disk or another one. */
  async open(path: string, text = this.files[path] ?? ''): Promise<void> {
    const uri = this.uriOf(path);
    this.versions.set(path, 1);
    await this.connection.sendNotification(DidOpenTextDocumentNotification.type, {
      textDocument: { uri, languageId: 'yaml', version: 1, text },
    });
  }

  /** Opens the file that holds the cursor and gives what requests about it need. */
  async openAtCursor(): Promise<{ textDocument: { uri: string }; position: Position }> {
    if (!this.cursorAt) throw new Error('No file holds the cursor $0.');
    const { path, offset } = this.cursorAt;
    await this.open(path);
    const position = new LineIndex(this.files[path] ?? '').positionAt(offset);
    return { textDocument: { uri: this.uriOf(path) }, position };
  }

  /** Changes an open file. Gives the new version. */
  async change(
    path: string,
    contentChanges: TextDocumentContentChangeEvent[],
    version = (this.versions.get(path) ?? 0) + 1,
  ): Promise<number> {
    this.versions.set(path, Math.max(version, this.versions.get(path) ?? 0));
    const textDocument = { uri: this.uriOf(path), version };
    await this.connection.sendNotification(DidChangeTextDocumentNotification.type, { textDocument, contentChanges });
    return version;
  }

  /** Closes an open file. */
  async close(path: string): Promise<void> {
    this.versions.delete(path);
    await this.connection.sendNotification(DidCloseTextDocumentNotification.type, {
      textDocument: { uri: this.uriOf(path) },
    });
  }

  /** Writes or, without a text, removes a file behind the editor's back. */
  write(path: string, text: string | undefined): void {
    this.wire.write(path, text);
  }

  /** The same, and the watcher tells. */
  async save(path: string, text: string | undefined): Promise<void> {
    this.write(path, text);
    await this.tellOf(path, text === undefined ? FileChangeType.Deleted : FileChangeType.Changed);
  }

  /** Has the watcher tell of a file or folder. */
  async tellOf(path: string, type: FileChangeType = FileChangeType.Deleted): Promise<void> {
    const changes = [{ uri: this.uriOf(path), type }];
    await this.connection.sendNotification(DidChangeWatchedFilesNotification.type, { changes });
  }

  /** The newest diagnostics of every file that has any. */
  get diagnostics(): Readonly<Record<string, readonly Diagnostic[]>> {
    const newest = new Map<string, readonly Diagnostic[]>();
    for (const { uri, diagnostics } of this.published) newest.set(this.pathOf(uri), diagnostics);
    return Object.fromEntries([...newest].filter(([, found]) => found.length > 0));
  }

  /** Waits until something holds of what the server has said. Throws with all it said where that takes too long. */
  async until(holds: () => boolean): Promise<void> {
    const { published, logged } = this;
    const tooLate = setTimeout(patienceMs, 'too late', { ref: false });
    while (!holds()) {
      const news = new Promise<void>((resolve) => this.news.push(resolve));
      if ((await Promise.race([news, tooLate])) === 'too late') {
        throw new Error(`It has not come about: ${JSON.stringify({ published, logged }, undefined, 1)}`);
      }
    }
  }

  /** Waits for the check ids a file's diagnostics name. */
  async untilFound(path: string, checks: readonly string[]): Promise<readonly Diagnostic[]> {
    const sorted = [...checks].sort().join();
    const found = () => (this.diagnostics[path] ?? []).map(({ code }) => String(code)).sort();
    await this.until(() => found().join() === sorted);
    return this.diagnostics[path] ?? [];
  }

  private hear<Said>(list: Said[], said: Said): void {
    list.push(said);
    for (const resolve of this.news.splice(0)) resolve();
  }

  private async shutDown(): Promise<void> {
    await this.connection.sendRequest(ShutdownRequest.type);
    await this.wire.closed();
  }
}
