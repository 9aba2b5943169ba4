import {
  commands,
  type Disposable,
  type ExtensionContext,
  type LogOutputChannel,
  type Memento,
  Uri,
  window,
  workspace,
} from 'vscode';
import { type BaseLanguageClient, type LanguageClientOptions, State } from 'vscode-languageclient';
import {
  type BaseState,
  baseStateNotification,
  type ClientOffers,
  type NewBaseAnswer,
  type NewBaseParams,
  newBaseRequest,
  type RecordedKind,
} from '../../server/src/lsp/protocol.ts';
import { BaseStatus } from './base-status.ts';
import { BaseTree } from './base-tree.ts';
import { type ClientCommandId, clientCommandRows, servingKey } from './command-rows.ts';
import { createBase } from './create-base.ts';
import { configName, findBases } from './find-bases.ts';
import { lendFiles } from './lend-files.ts';
import { type ChoosePanel, isPanelCommand, type PanelCommand, panelCommands } from './panel-commands.ts';
import { Panels } from './panels.ts';
import { RecordFlow } from './record-flow.ts';

/** A client whose server is not yet started, and what ends that server once it was told to stop. */
export interface Launched {
  readonly client: BaseLanguageClient;
  readonly end: () => void;
}

/** Prepares a server on the machine the extension runs on. */
export type Launch = (options: LanguageClientOptions) => Launched;

/** The extension while it is active. A server runs for as long as there is a base. */
export class Extension {
  private readonly log: LogOutputChannel = window.createOutputChannel('Swaplore', { log: true });
  private readonly status = new BaseStatus();
  /** The records of all bases as the view lists them. */
  readonly tree = new BaseTree({ bases: () => this.status.bases, client: () => this.running?.client });
  private readonly panels: Panels;
  private running: Launched | undefined;
  /** Addresses of the bases the running server was started for. */
  private served = '';
  private turn: Promise<void> = Promise.resolve();

  private constructor(
    extensionUri: Uri,
    private readonly begun: Memento,
    private readonly launch: Launch,
  ) {
    this.panels = new Panels(extensionUri);
  }

  /** Starts a server where there is a base, and follows which bases there are. */
  static async start(
    { extensionUri, subscriptions, workspaceState }: ExtensionContext,
    launch: Launch,
  ): Promise<Extension> {
    const extension = new Extension(extensionUri, workspaceState, launch);
    const follow = () => extension.follow();
    const configs = workspace.createFileSystemWatcher(`**/${configName}`, false, true, false);
    subscriptions.push(
      extension.log,
      extension.status,
      extension.tree,
      configs,
      configs.onDidCreate(follow),
      configs.onDidDelete(follow),
      workspace.onDidChangeWorkspaceFolders(follow),
      ...extension.registerCommands(),
    );
    await extension.follow();
    return extension;
  }

  /** What the status bar says; undefined where it says nothing. */
  get statusText(): string | undefined {
    return this.status.text;
  }

  /** Whether a server runs. */
  get isServing(): boolean {
    return this.running !== undefined;
  }

  /** Ends the server, if one runs. */
  stop(): Promise<void> {
    return this.inTurn(() => this.end());
  }

  private registerCommands(): Disposable[] {
    const handlers: Readonly<Record<Exclude<ClientCommandId, PanelCommand>, () => unknown>> = {
      'swaplore.recordOutcome': () => this.record('outcome'),
      'swaplore.recordDrive': () => this.record('drive'),
      'swaplore.createBase': () => createBase((params) => this.inTurn(() => this.askForBase(params))),
      'swaplore.showLog': () => this.log.show(),
    };
    const handlerOf = (id: ClientCommandId) => (isPanelCommand(id) ? () => this.showPanel(id, []) : handlers[id]);
    return clientCommandRows.map(({ id }) => commands.registerCommand(id, handlerOf(id)));
  }

  private follow(): Promise<void> {
    return this.inTurn(async () => {
      const bases = await findBases();
      const wanted = bases.join('\n');
      if (wanted === this.served) return;
      // A client that runs cannot be told of other documents.
      await this.end();
      if (bases.length > 0) await this.serve(bases);
      this.served = wanted;
    });
  }

  private async serve(bases: readonly Uri[]): Promise<void> {
    const initializationOptions: ClientOffers = { files: true, baseStates: true };
    this.running = this.launch({
      documentSelector: bases.map((base) => ({
        language: 'yaml',
        scheme: base.scheme,
        pattern: { baseUri: base.toString(), pattern: '**' },
      })),
      initializationOptions,
      outputChannel: this.log,
      synchronize: { configurationSection: 'swaplore' },
      middleware: {
        // Other editors have no panels; they are answered with a page of text.
        executeCommand: (command, values, next) =>
          isPanelCommand(command) ? this.showPanel(command, values) : next(command, values),
      },
    });
    const { client } = this.running;
    lendFiles(client);
    client.onNotification(baseStateNotification, (state) => this.takeState(state));
    client.onDidChangeState(({ newState }) => {
      if (newState !== State.Stopped) return;
      this.status.clear();
      this.tree.outdate();
    });
    await client.start().catch((error: unknown) => {
      this.running?.end();
      this.running = undefined;
      throw error;
    });
    await commands.executeCommand('setContext', servingKey, true);
  }

  private async end(): Promise<void> {
    const { running } = this;
    this.running = undefined;
    this.served = '';
    this.panels.dispose();
    await running?.client.stop();
    running?.end();
    await commands.executeCommand('setContext', servingKey, false);
  }

  /** Asks the server that runs, else one that is started for this question alone: there may be no base yet. */
  private async askForBase(params: NewBaseParams): Promise<NewBaseAnswer> {
    if (this.running) return this.running.client.sendRequest(newBaseRequest, params);
    const { client, end } = this.launch({ documentSelector: [], outputChannel: this.log });
    try {
      await client.start();
      return await client.sendRequest(newBaseRequest, params);
    } finally {
      await client.stop().catch(() => undefined);
      end();
    }
  }

  private takeState(state: BaseState): void {
    this.status.take(state);
    this.tree.outdate();
    this.panels.take(state);
  }

  private async record(kind: RecordedKind): Promise<void> {
    const root = await this.chooseBase();
    const { running, begun } = this;
    if (root === undefined || !running) return;
    await new RecordFlow({ client: running.client, root, kind, begun }).run();
  }

  /** Shows a panel of the base and the record that are named, as a lens does it, else of those they choose. */
  private async showPanel(command: PanelCommand, [address, named]: readonly unknown[]): Promise<void> {
    const root = typeof address === 'string' ? this.baseAround(address) : await this.chooseBase();
    const { running } = this;
    if (root === undefined || !running) return;
    const choose: ChoosePanel = panelCommands[command];
    const shown = await choose(running.client, root, typeof named === 'string' ? named : undefined);
    if (shown && this.running === running) await this.panels.show(running.client, root, shown);
  }

  /** The base around the text somebody looks at, else the only one, else the one they pick; undefined where they pick none. */
  private async chooseBase(): Promise<string | undefined> {
    const { bases } = this.status;
    const innermost = this.baseAround(window.activeTextEditor?.document.uri.toString() ?? '');
    if (innermost !== undefined || bases.length < 2) return innermost ?? bases[0]?.root;
    const items = bases.map(({ name, root }) => ({ label: name, description: Uri.parse(root).path, root }));
    return (await window.showQuickPick(items, { title: 'Which base?' }))?.root;
  }

  /** The innermost base around an address. */
  private baseAround(address: string): string | undefined {
    const around = this.status.bases.filter(({ root }) => address.startsWith(`${root}/`));
    return around.sort((a, b) => b.root.length - a.root.length)[0]?.root;
  }

  private inTurn<Result>(task: () => Promise<Result>): Promise<Result> {
    const done = this.turn.then(task);
    this.turn = done.then(
      () => undefined,
      () => undefined,
    );
    return done;
  }
}
