import {
  commands,
  type Disposable,
  type ExtensionContext,
  type LogOutputChannel,
  type Uri,
  window,
  workspace,
} from 'vscode';
import type { BaseLanguageClient, LanguageClientOptions } from 'vscode-languageclient';
import { baseStateNotification, type ClientOffers } from '../../server/src/lsp/protocol.ts';
import { BaseStatus } from './base-status.ts';
import { type CommandName, commandRows } from './command-rows.ts';
import { configName, findBases } from './find-bases.ts';
import { lendFiles } from './lend-files.ts';

/** A client whose server is not yet started, and what ends that server once it was told to stop. */
export interface Launched {
  readonly client: BaseLanguageClient;
  readonly end: () => void;
}

/** Prepares a server on the machine the extension runs on. */
export type Launch = (options: LanguageClientOptions) => Launched;

/** The extension while it is active. A server runs for as long as there is a base. */
export class Extension implements Disposable {
  private readonly log: LogOutputChannel = window.createOutputChannel('Swaplore', { log: true });
  private readonly status = new BaseStatus();
  private running: Launched | undefined;
  /** Addresses of the bases the running server was started for. */
  private served = '';
  private turn: Promise<void> = Promise.resolve();

  private constructor(private readonly launch: Launch) {}

  /** Starts a server where there is a base, and follows which bases there are. */
  static async start(context: ExtensionContext, launch: Launch): Promise<Extension> {
    const extension = new Extension(launch);
    const follow = () => extension.follow();
    const configs = workspace.createFileSystemWatcher(`**/${configName}`, false, true, false);
    context.subscriptions.push(
      extension,
      configs,
      configs.onDidCreate(follow),
      configs.onDidDelete(follow),
      workspace.onDidChangeWorkspaceFolders(follow),
      ...commandRows.map(({ name }) => commands.registerCommand(`swaplore.${name}`, () => extension.handlers[name]())),
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

  dispose(): void {
    this.status.dispose();
    this.log.dispose();
  }

  private readonly handlers: Readonly<Record<CommandName, () => unknown>> = {
    readAgain: () =>
      this.inTurn(async () => {
        await this.end();
        await this.serveBases();
        if (!this.running) void window.showInformationMessage(`No folder of this window holds a ${configName}.`);
      }),
    showLog: () => this.log.show(),
  };

  private follow(): Promise<void> {
    return this.inTurn(() => this.serveBases());
  }

  private async serveBases(): Promise<void> {
    const bases = await findBases();
    const wanted = bases.join('\n');
    if (wanted === this.served) return;
    // A running client cannot be told of other documents.
    await this.end();
    if (bases.length > 0) await this.serve(bases);
    this.served = wanted;
  }

  private async serve(bases: readonly Uri[]): Promise<void> {
    const offers: ClientOffers = { files: true, baseStates: true };
    this.running = this.launch({
      documentSelector: bases.map((base) => ({
        language: 'yaml',
        scheme: base.scheme,
        pattern: { baseUri: base.toString(), pattern: '**' },
      })),
      initializationOptions: offers,
      outputChannel: this.log,
      synchronize: { configurationSection: 'swaplore' },
    });
    const { client } = this.running;
    lendFiles(client);
    client.onNotification(baseStateNotification, (state) => this.status.take(state));
    await client.start();
  }

  private async end(): Promise<void> {
    const { running } = this;
    this.running = undefined;
    this.served = '';
    this.status.clear();
    await running?.client.stop();
    running?.end();
  }

  private inTurn(task: () => Promise<void>): Promise<void> {
    const done = this.turn.then(task);
    this.turn = done.catch(() => undefined);
    return done;
  }
}
