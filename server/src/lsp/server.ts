/** The language server: one connection, the requests of the features, and what clients tell of their files. */
import {
  type ClientCapabilities,
  CodeLensRefreshRequest,
  type Connection,
  DiagnosticRefreshRequest,
  DidChangeWatchedFilesNotification,
  ErrorCodes,
  type InitializeParams,
  type InitializeResult,
  InlayHintRefreshRequest,
  ResponseError,
  type ServerCapabilities,
  ShowDocumentRequest,
  TextDocumentContentRefreshRequest,
  TextDocumentSyncKind,
} from 'vscode-languageserver';
import { gatherBaseFacts } from '../core/features/base-facts.ts';
import { countBySeverity } from '../core/reports/counts-in-words.ts';
import { runInSlices } from '../host/run-in-slices.ts';
import { BaseChecker } from './base-checker.ts';
import type { BaseSession } from './base-session.ts';
import { describeError, type Surroundings } from './feature.ts';
import { features } from './features.ts';
import { type BaseState, baseStateNotification, offersOf } from './protocol.ts';
import { pullsDiagnostics } from './pulls-diagnostics.ts';
import { readSettings, type Settings } from './settings.ts';
import { type ShownFile, ShownFindings } from './shown-findings.ts';
import { TextDocument } from './text-document.ts';
import { chooseEncoding } from './text-positions.ts';
import { Workspace } from './workspace.ts';
import type { World } from './world.ts';

/** What a server is started with. */
export interface ServerOptions {
  readonly version: string;
  /** The machine, and what the client said it can do with files. */
  readonly worldFor: (params: InitializeParams) => World;
}

/** Begins to serve a client. Ends with the connection. */
export function startServer(connection: Connection, { version, worldFor }: ServerOptions): void {
  let server: Server | undefined;
  connection.onInitialize((params) => {
    server = new Server(connection, params, worldFor(params));
    return server.initialize(version);
  });
  connection.onInitialized(() => server?.begin());
  connection.onShutdown(() => server?.end());
  connection.onDidOpenTextDocument(({ textDocument }) => server?.open(textDocument));
  connection.onDidChangeTextDocument((params) => server?.change(params));
  connection.onDidCloseTextDocument(({ textDocument }) => server?.close(textDocument.uri));
  connection.onDidSaveTextDocument(({ textDocument }) => server?.saved(textDocument.uri));
  connection.onDidChangeWatchedFiles(({ changes }) => server?.filesChanged(changes.map(({ uri }) => uri)));
  connection.onDidChangeConfiguration(({ settings }) => server?.settingsChanged(settings?.swaplore));
  connection.listen();
}

/** A base with what is shown of it. */
interface LiveBase {
  readonly checker: BaseChecker;
  readonly shown: ShownFindings;
}

class Server {
  private readonly client: ClientCapabilities;
  private readonly workspace: Workspace;
  private readonly live = new Map<BaseSession, LiveBase>();
  private readonly encoding: ReturnType<typeof chooseEncoding>;
  private settings: Settings;
  private isShutDown = false;

  constructor(
    private readonly connection: Connection,
    private readonly params: InitializeParams,
    private readonly world: World,
  ) {
    this.client = params.capabilities;
    this.encoding = chooseEncoding(this.client);
    this.settings = readSettings(params.initializationOptions);
    this.workspace = new Workspace({ world, encoding: this.encoding, onBase: (base) => this.takeBase(base) });
  }

  initialize(version: string): InitializeResult {
    const { connection, client } = this;
    const surroundings = this.surroundings();
    let capabilities: ServerCapabilities = {
      positionEncoding: this.encoding,
      textDocumentSync: {
        openClose: true,
        change: TextDocumentSyncKind.Incremental,
        save: true,
        willSaveWaitUntil: client.textDocument?.synchronization?.willSaveWaitUntil === true,
      },
      workspace: { workspaceFolders: { supported: true, changeNotifications: true } },
    };
    for (const feature of features) {
      feature.attach(connection, surroundings, () => this.prepared());
      const { workspace, ...more } = feature.capabilities(client);
      capabilities = { ...capabilities, ...more, workspace: { ...capabilities.workspace, ...workspace } };
    }
    return { capabilities, serverInfo: { name: 'swaplore', version } };
  }

  /** What the protocol allows only once the client has answered: to ask it things. */
  begin(): void {
    const { connection, client, params } = this;
    if (client.workspace?.didChangeWatchedFiles?.dynamicRegistration) {
      // Records name files with any ending. Of a folder that comes or goes some clients tell, and not of the files in it.
      const watchers = [{ globPattern: '**/*' }];
      this.tell(connection.client.register(DidChangeWatchedFilesNotification.type, { watchers }));
    }
    if (client.workspace?.workspaceFolders) {
      connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) => {
        this.addFolders(added.map(({ uri }) => uri));
        for (const { uri } of removed) this.tell(this.workspace.removeFolder(uri));
      });
    }
    this.addFolders(params.workspaceFolders?.map(({ uri }) => uri) ?? (params.rootUri ? [params.rootUri] : []));
    this.tell(this.readSettings(undefined));
  }

  /** Gives up all work. What is asked from now on is refused, as the protocol has it. */
  end(): void {
    this.isShutDown = true;
    for (const { checker } of this.live.values()) checker.stop();
  }

  open({ uri, version, text }: { readonly uri: string; readonly version: number; readonly text: string }): void {
    this.workspace.open(new TextDocument(uri, version, text, this.encoding));
  }

  change({ textDocument, contentChanges }: Parameters<Parameters<Connection['onDidChangeTextDocument']>[0]>[0]): void {
    const document = this.workspace.find(textDocument.uri);
    if (!document) this.log(`a change of ${textDocument.uri}, which is not open, is passed over`);
    else if (textDocument.version <= document.version) {
      this.log(
        `change ${textDocument.version} of ${textDocument.uri} comes after ${document.version} and is passed over`,
      );
    } else this.workspace.change(document.with(textDocument.version, contentChanges));
  }

  close(uri: string): void {
    this.workspace.close(uri);
  }

  /** Clients that do not watch files tell at least of what they save, and that is a moment to look at all others. */
  saved(uri: string): void {
    if (this.client.workspace?.didChangeWatchedFiles?.dynamicRegistration) return;
    const base = this.workspace.look(uri)?.base;
    if (base) this.tell(this.load(base));
  }

  filesChanged(uris: readonly string[]): void {
    this.tell(this.workspace.filesChanged(uris));
  }

  settingsChanged(sent: unknown): void {
    this.tell(this.readSettings(sent));
  }

  /** Asks the client for its settings, or takes those it has sent. */
  private async readSettings(sent: unknown): Promise<void> {
    const { client, connection, params } = this;
    const asked = client.workspace?.configuration ? await connection.workspace.getConfiguration('swaplore') : sent;
    if (asked === undefined) return;
    // Null: the client has nothing to say of them.
    this.settings = readSettings(asked ?? params.initializationOptions);
    this.refresh();
  }

  private async prepared(): Promise<void> {
    if (this.isShutDown) throw new ResponseError(ErrorCodes.InvalidRequest, 'The server was shut down.');
    await this.workspace.prepared;
  }

  private surroundings(): Surroundings {
    const { workspace, live } = this;
    const settings = () => this.settings;
    const whenIndexed = async (base: BaseSession): Promise<void> => {
      await base.settled();
      await runInSlices(gatherBaseFacts(base.snapshot), this.world, () => this.isShutDown);
    };
    return {
      client: this.client,
      get settings() {
        return settings();
      },
      today: () => this.world.today(),
      allBases: async () => {
        await workspace.found();
        return workspace.bases;
      },
      look: (uri) => workspace.look(uri),
      lookIndexed: async (uri) => {
        const base = workspace.look(uri)?.base;
        if (base) await whenIndexed(base);
        return workspace.look(uri);
      },
      locate: (base, places) => workspace.locate(base, places),
      whenIndexed,
      whenChecked: async (base, token) => live.get(base)?.checker.settled(token),
      runsOf: (base) => live.get(base)?.checker.runs,
      inSlices: (work, isStale) => runInSlices(work, this.world, isStale),
      revisionsOf: (base) => this.world.revisionsFor(base.root),
      readerOf: (folder) => this.world.storeFor(folder)?.open(folder),
      reload: (base) => this.load(base),
      showPage: (uri) => this.showPage(uri),
      shownIn: (base) => live.get(base)?.shown.files ?? new Map(),
    };
  }

  private addFolders(uris: readonly string[]): void {
    for (const uri of uris) this.tell(this.workspace.addFolder(uri));
  }

  private takeBase(base: BaseSession): { changed(): void; outdated(): void; gone(): void } {
    const { textDocument } = this.client;
    const isPulled = pullsDiagnostics(this.client);
    const shown = new ShownFindings(base, {
      hasRelated: (isPulled ? textDocument?.diagnostic : textDocument?.publishDiagnostics)?.relatedInformation === true,
      hasCheckPages: this.client.workspace?.textDocumentContent !== undefined,
    });
    let hasNews = false;
    const checker = new BaseChecker(base, shown, {
      world: this.world,
      onFile: (file) => {
        hasNews = true;
        if (!isPulled) this.publish(base, file);
      },
      onChecked: () => {
        if (hasNews && isPulled) this.tell(this.connection.sendRequest(DiagnosticRefreshRequest.type));
        hasNews = false;
        this.refresh();
        const { error, warning } = countBySeverity([...shown.files.values()].flatMap(({ findings }) => findings));
        this.tellState({ root: base.root, name: base.name, state: 'checked', errors: error, warnings: warning });
      },
      onError: (error) => this.fail(error),
    });
    this.live.set(base, { checker, shown });
    return {
      changed: () => checker.restart(),
      outdated: () => this.tell(this.load(base)),
      gone: () => {
        checker.stop();
        this.live.delete(base);
        this.tellState({ root: base.root, name: base.name, state: 'gone' });
        const paths = [...shown.files.keys()];
        if (isPulled) this.tell(this.connection.sendRequest(DiagnosticRefreshRequest.type));
        else for (const path of paths) this.publish(base, { path, diagnostics: [] });
      },
    };
  }

  private publish(base: BaseSession, { path, diagnostics }: Pick<ShownFile, 'path' | 'diagnostics'>): void {
    const version = base.opened.get(path)?.version;
    const about = { uri: base.uriOf(path), ...(version === undefined ? {} : { version }) };
    this.tell(this.connection.sendDiagnostics({ ...about, diagnostics: [...diagnostics] }));
  }

  private async load(base: BaseSession): Promise<void> {
    // A client that cannot show progress is no reason to wait.
    const reporter = this.connection.window.createWorkDoneProgress().catch(() => undefined);
    const begun = reporter.then((progress) => progress?.begin(`Reading ${base.name}`, 0));
    this.tellState({ root: base.root, name: base.name, state: 'reading' });
    try {
      await base.load((share) => void reporter.then((progress) => progress?.report(Math.round(100 * share))));
      await this.workspace.sort(base);
    } finally {
      await begun;
      (await reporter)?.done();
    }
  }

  private async showPage(uri: string): Promise<boolean> {
    const { client, connection } = this;
    if (!client.window?.showDocument?.support || !client.workspace?.textDocumentContent) return false;
    // One that is open already would stay as it was.
    this.tell(connection.sendRequest(TextDocumentContentRefreshRequest.type, { uri }));
    const { success } = await connection.sendRequest(ShowDocumentRequest.type, { uri, takeFocus: true });
    return success;
  }

  private tellState(state: BaseState): void {
    const { baseStates } = offersOf(this.params.initializationOptions);
    if (baseStates === true) this.tell(this.connection.sendNotification(baseStateNotification, state));
  }

  /** Has the client ask again for what it shows beside the text. */
  private refresh(): void {
    const { client, connection } = this;
    if (client.workspace?.codeLens?.refreshSupport) this.tell(connection.sendRequest(CodeLensRefreshRequest.type));
    if (client.workspace?.inlayHint?.refreshSupport) this.tell(connection.sendRequest(InlayHintRefreshRequest.type));
  }

  /** For requests whose answer says nothing: one that is refused is logged. */
  private tell(answer: Promise<unknown>): void {
    answer.catch((error: unknown) => this.fail(error));
  }

  private log(message: string): void {
    this.connection.console.warn(message);
  }

  /** Logs what went wrong. Once it is shut down nobody listens, and what is given up then fails for that reason. */
  private fail(error: unknown): void {
    if (!this.isShutDown) this.connection.console.error(describeError(error));
  }
}
