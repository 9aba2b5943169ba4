import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { performance } from 'node:perf_hooks';
import { setTimeout } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import {
  type ClientCapabilities,
  CompletionRequest,
  ConfigurationRequest,
  createProtocolConnection,
  type Diagnostic,
  DidChangeConfigurationNotification,
  DidChangeTextDocumentNotification,
  DidCloseTextDocumentNotification,
  DidOpenTextDocumentNotification,
  ExitNotification,
  HoverRequest,
  InitializedNotification,
  InitializeRequest,
  type Position,
  type ProtocolConnection,
  PublishDiagnosticsNotification,
  RegistrationRequest,
  type ServerCapabilities,
  ShutdownRequest,
  StreamMessageReader,
  StreamMessageWriter,
  WorkDoneProgressCreateRequest,
} from 'vscode-languageserver/node';
import { withoutUnwanted } from '../measure.ts';

/** A language server as it is started. */
export interface LanguageServer {
  readonly name: string;
  readonly args: readonly string[];
  readonly env: Readonly<Record<string, string>>;
  /** Settings by section. */
  readonly settings: (folder: string) => Readonly<Record<string, unknown>>;
  /** Time it waits for another keystroke before it looks at a text, in milliseconds. */
  readonly debounceMs: number;
}

/** What a server has said of a file. */
interface Published {
  readonly path: string;
  readonly diagnostics: readonly Diagnostic[];
}

const capabilities: ClientCapabilities = {
  workspace: {
    workspaceFolders: true,
    configuration: true,
    didChangeConfiguration: { dynamicRegistration: true },
    didChangeWatchedFiles: { dynamicRegistration: true },
  },
  textDocument: {
    publishDiagnostics: { relatedInformation: true, versionSupport: true },
    hover: { contentFormat: ['markdown', 'plaintext'] },
    completion: { completionItem: { snippetSupport: true, documentationFormat: ['markdown', 'plaintext'] } },
  },
  window: { workDoneProgress: true },
};

/** Longest anything is waited for. */
const patienceMs = 120_000;

/** A running server, asked and timed as an editor would see it. Times are milliseconds. */
export class ServerProcess {
  /** When the process was started, as `performance.now` counts. */
  readonly startedMs = performance.now();
  /** Resolves with the moment at which the server has ended its first task with progress. */
  readonly indexed: Promise<number>;
  private readonly child: ChildProcess;
  private readonly connection: ProtocolConnection;
  private readonly versions = new Map<string, number>();
  private readonly listeners = new Set<(published: Published) => void>();
  private offered: ServerCapabilities = {};

  constructor(
    private readonly server: LanguageServer,
    private readonly folder: string,
  ) {
    this.child = spawn(process.execPath, server.args, {
      cwd: folder,
      env: withoutUnwanted({ ...process.env, ...server.env }),
      stdio: ['pipe', 'pipe', 'inherit'],
    });
    const { stdin, stdout } = this.child;
    if (!stdin || !stdout) throw new Error('Both ends are pipes');
    this.connection = createProtocolConnection(new StreamMessageReader(stdout), new StreamMessageWriter(stdin));
    this.indexed = new Promise((resolve) => {
      this.connection.onNotification('$/progress', ({ value }: { readonly value: { readonly kind: string } }) => {
        if (value.kind === 'end') resolve(performance.now());
      });
    });
  }

  /** Makes the server's acquaintance. */
  async begin(): Promise<void> {
    const { connection, folder } = this;
    const settings = this.server.settings(folder);
    connection.onNotification(PublishDiagnosticsNotification.type, ({ uri, diagnostics }) => {
      const path = decodeURIComponent(uri).slice(decodeURIComponent(this.root).length + 1);
      for (const listener of this.listeners) listener({ path, diagnostics });
    });
    connection.onRequest(RegistrationRequest.type, () => undefined);
    connection.onRequest(WorkDoneProgressCreateRequest.type, () => undefined);
    connection.onRequest(ConfigurationRequest.type, ({ items }) =>
      items.map(({ section = '' }) => settings[section] ?? null),
    );
    connection.listen();
    const { capabilities: offered } = await connection.sendRequest(InitializeRequest.type, {
      processId: process.pid,
      rootUri: this.root,
      workspaceFolders: [{ uri: this.root, name: 'base' }],
      capabilities,
    });
    this.offered = offered;
    await connection.sendNotification(InitializedNotification.type, {});
    await connection.sendNotification(DidChangeConfigurationNotification.type, { settings });
  }

  /** Whether the server says that it can do this. */
  can(capability: keyof ServerCapabilities): boolean {
    return Boolean(this.offered[capability]);
  }

  /** Opens a file. */
  async open(path: string, text: string): Promise<void> {
    this.versions.set(path, 1);
    await this.connection.sendNotification(DidOpenTextDocumentNotification.type, {
      textDocument: { uri: this.uriOf(path), languageId: 'yaml', version: 1, text },
    });
  }

  /** Gives an open file another text at a position and says how long it takes until diagnostics are sent that `isAwaited` takes. */
  async type(
    path: string,
    { from, to, text }: { readonly from: Position; readonly to: Position; readonly text: string },
    isAwaited: (diagnostics: readonly Diagnostic[]) => boolean,
  ): Promise<number> {
    const version = (this.versions.get(path) ?? 0) + 1;
    this.versions.set(path, version);
    const sentMs = performance.now();
    const published = this.untilPublished(path, isAwaited);
    await this.connection.sendNotification(DidChangeTextDocumentNotification.type, {
      textDocument: { uri: this.uriOf(path), version },
      contentChanges: [{ range: { start: from, end: to }, text }],
    });
    return (await published) - sentMs;
  }

  /** Resolves with the moment at which diagnostics of a file are sent that `isAwaited` takes. */
  untilPublished(path: string, isAwaited: (diagnostics: readonly Diagnostic[]) => boolean): Promise<number> {
    return new Promise((resolve, reject) => {
      const timer = setTimeout(patienceMs, undefined, { ref: false });
      void timer.then(() => reject(new Error(`${this.server.name} does not say what is awaited of ${path}.`)));
      const listener = (published: Published) => {
        if (published.path !== path || !isAwaited(published.diagnostics)) return;
        this.listeners.delete(listener);
        resolve(performance.now());
      };
      this.listeners.add(listener);
    });
  }

  /** Closes a file. */
  async close(path: string): Promise<void> {
    await this.connection.sendNotification(DidCloseTextDocumentNotification.type, {
      textDocument: { uri: this.uriOf(path) },
    });
  }

  /** How long a hover takes. A server that has none answers that, at once if it can. */
  hover(path: string, position: Position): Promise<number> {
    return this.timed(HoverRequest.method, { textDocument: { uri: this.uriOf(path) }, position });
  }

  /** How long a completion takes. */
  complete(path: string, position: Position): Promise<number> {
    return this.timed(CompletionRequest.method, { textDocument: { uri: this.uriOf(path) }, position });
  }

  /** Memory the process occupies, in bytes. */
  residentBytes(): number {
    return 1024 * Number(execFileSync('ps', ['-o', 'rss=', '-p', String(this.child.pid)], { encoding: 'utf8' }));
  }

  /** Ends the server. */
  async end(): Promise<void> {
    const ended = once(this.child, 'exit');
    await this.connection.sendRequest(ShutdownRequest.type);
    await this.connection.sendNotification(ExitNotification.type);
    await ended;
    this.connection.dispose();
  }

  private async timed(method: string, params: object): Promise<number> {
    const sentMs = performance.now();
    await this.connection.sendRequest(method, params).catch(() => undefined);
    return performance.now() - sentMs;
  }

  private get root(): string {
    return pathToFileURL(this.folder).href;
  }

  private uriOf(path: string): string {
    return `${this.root}/${path}`;
  }
}
