import {
  commands,
  type Disposable,
  type ExtensionContext,
  type LogOutputChannel,
  type Memento,
  ProgressLocation,
  Uri,
  window,
  workspace,
} from 'vscode';
import { type BaseLanguageClient, type LanguageClientOptions, State } from 'vscode-languageclient';
import type { CommandId } from '../../server/src/lsp/command-rows.ts';
import {
  type BaseState,
  baseStateNotification,
  type ClientOffers,
  type NewBaseAnswer,
  type NewBaseParams,
  newBaseRequest,
  type RecordedKind,
  type ReportParams,
  reportRequest,
} from '../../server/src/lsp/protocol.ts';
import { BaseStatus } from './base-status.ts';
import { BaseTree } from './base-tree.ts';
import { chooseRecord, type RecordChoice } from './choose-record.ts';
import { type ClientCommandId, clientCommandRows, servingKey } from './command-rows.ts';
import { chooseImages } from './compare-images.ts';
import { createBase } from './create-base.ts';
import { configName, findBases } from './find-bases.ts';
import { lendFiles } from './lend-files.ts';
import { RecordFlow } from './record-flow.ts';
import { type AskForPage, ReportPanel } from './report-panel.ts';
import { chooseReview } from './review-changes.ts';
import { chooseTrace } from './trace-identity.ts';

/** A client whose server is not yet started, and what ends that server once it was told to stop. */
export interface Launched {
  readonly client: BaseLanguageClient;
  readonly end: () => void;
}

/** Prepares a server on the machine the extension runs on. */
export type Launch = (options: LanguageClientOptions) => Launched;

/** The commands that are answered with a panel here, and with a page of text for editors that have no panels. */
const [reportCommand, oddsCommand]: readonly [CommandId, CommandId] = ['swaplore.contradictions', 'swaplore.showOdds'];

const familyChoice: RecordChoice = {
  of: 'families',
  title: 'Show Odds',
  asks: 'Of which family?',
  none: 'No family is recorded in this base.',
};

const patientChoice: RecordChoice = {
  of: 'drives',
  title: 'Find Donors for a Drive',
  asks: 'For which drive?',
  none: 'No drive is recorded in this base.',
};

/** What a panel is of. */
interface PanelSubject {
  /** Address of the base. */
  readonly root: string;
  /** Whether it changes with the base. */
  readonly follows: boolean;
}

interface OpenPanel extends PanelSubject {
  readonly panel: ReportPanel;
}

/** What a panel shows. */
interface ShownPanel extends PanelSubject {
  /** Unlike that of any other panel. */
  readonly key: string;
  readonly ask: AskForPage;
  /** The report it opens with; absent where it has one page only. */
  readonly first?: string;
  /** What is done until it shows. */
  readonly title: string;
}

/** The extension while it is active. A server runs for as long as there is a base. */
export class Extension {
  private readonly log: LogOutputChannel = window.createOutputChannel('Swaplore', { log: true });
  private readonly status = new BaseStatus();
  /** The records of all bases as the view lists them. */
  readonly tree = new BaseTree({ bases: () => this.status.bases, client: () => this.running?.client });
  /** Open panels by what they show, with the base it is of. */
  private readonly panels = new Map<string, OpenPanel>();
  private running: Launched | undefined;
  /** Addresses of the bases the running server was started for. */
  private served = '';
  private turn: Promise<void> = Promise.resolve();

  private constructor(
    private readonly extensionUri: Uri,
    private readonly begun: Memento,
    private readonly launch: Launch,
  ) {}

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
    const handlers: Readonly<Record<ClientCommandId, () => unknown>> = {
      'swaplore.recordOutcome': () => this.record('outcome'),
      'swaplore.recordDrive': () => this.record('drive'),
      'swaplore.findDonors': () => this.findDonors(),
      'swaplore.planTrial': () => this.planTrial(),
      'swaplore.traceIdentity': () => this.trace(),
      'swaplore.compareImages': () => this.compareImages(),
      'swaplore.reviewChanges': () => this.reviewChanges(),
      'swaplore.createBase': () => createBase((params) => this.inTurn(() => this.askForBase(params))),
      'swaplore.showLog': () => this.log.show(),
    };
    return clientCommandRows.map(({ id }) => commands.registerCommand(id, handlers[id]));
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
        executeCommand: (command, values, next) => {
          if (command === reportCommand) return this.showReport();
          return command === oddsCommand ? this.showOdds(values) : next(command, values);
        },
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
    for (const { panel } of this.panels.values()) panel.dispose();
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
    for (const { follows, panel } of [...this.panels.values()].filter(({ root }) => root === state.root)) {
      if (state.state === 'checked' && follows) panel.outdate();
      if (state.state === 'gone') panel.dispose();
    }
  }

  private async record(kind: RecordedKind): Promise<void> {
    const root = await this.chooseBase();
    const { running, begun } = this;
    if (root === undefined || !running) return;
    await new RecordFlow({ client: running.client, root, kind, begun }).run();
  }

  private async showReport(): Promise<void> {
    const root = await this.chooseBase();
    const { running } = this;
    if (root === undefined || !running) return;
    await this.showReportOf(running, root, 'contradictions', 'Checking outcomes against rules');
  }

  /** Shows the page of a family: the one that is named, as a lens does it, else the one at the cursor, else the one they choose. */
  private async showOdds([address, named]: readonly unknown[]): Promise<void> {
    const root = typeof address === 'string' ? this.baseAround(address) : await this.chooseBase();
    const { running } = this;
    if (root === undefined || !running) return;
    const family = typeof named === 'string' ? named : await chooseRecord(running.client, root, familyChoice);
    if (family !== undefined) await this.showReportOf(running, root, `family/${family}`, 'Working out odds');
  }

  /** Shows which donors there are for the drive at the cursor, else for the one they choose. */
  private async findDonors(): Promise<void> {
    const root = await this.chooseBase();
    const { running } = this;
    if (root === undefined || !running) return;
    const drive = await chooseRecord(running.client, root, patientChoice);
    if (drive !== undefined) await this.showReportOf(running, root, `donors/${drive}`, 'Ranking donors');
  }

  /** Shows what to try next for the family at the cursor, else for the one they choose. */
  private async planTrial(): Promise<void> {
    const root = await this.chooseBase();
    const { running } = this;
    if (root === undefined || !running) return;
    const family = await chooseRecord(running.client, root, { ...familyChoice, title: 'Plan the Next Trial' });
    if (family !== undefined) await this.showReportOf(running, root, `plan/${family}`, 'Planning the next trial');
  }

  /** Opens the panel of a base with a report; where it shows another one, it turns to this. */
  private async showReportOf({ client }: Launched, root: string, first: string, title: string): Promise<void> {
    const ask: AskForPage = (nonce, report) =>
      // The server knows which reports there are.
      client.sendRequest(reportRequest, { report: report as ReportParams['report'], uri: root, nonce });
    await this.showPanel({ key: root, root, follows: true, ask, first, title });
  }

  private async trace(): Promise<void> {
    const root = await this.chooseBase();
    const { running } = this;
    if (root === undefined || !running) return;
    const chosen = await chooseTrace(running.client, root);
    if (!chosen) return;
    const { outcome, ask } = chosen;
    await this.showPanel({ key: `${root} trace ${outcome}`, root, follows: true, ask, title: 'Tracing captures' });
  }

  private async compareImages(): Promise<void> {
    const root = await this.chooseBase();
    const { running } = this;
    if (root === undefined || !running) return;
    const ask = await chooseImages(running.client, root);
    if (ask) await this.showAnew({ key: `${root} images`, root, ask, title: 'Comparing images' });
  }

  private async reviewChanges(): Promise<void> {
    const root = await this.chooseBase();
    const { running } = this;
    if (root === undefined || !running) return;
    const ask = await chooseReview(running.client, root);
    if (ask) await this.showAnew({ key: `${root} review`, root, ask, title: 'Reviewing changes' });
  }

  /** Opens a panel in the place of the one that shows the like, and says what stands in the way of it. It stays as it is. */
  private async showAnew(shown: Omit<ShownPanel, 'follows'>): Promise<void> {
    this.panels.get(shown.key)?.panel.dispose();
    await this.showPanel({ ...shown, follows: false }).catch((error: unknown) => {
      void window.showErrorMessage(error instanceof Error ? error.message : String(error));
    });
  }

  /** Opens a panel, or brings the one that shows the same to the front. */
  private async showPanel({ key, root, follows, ask, first = '', title }: ShownPanel): Promise<void> {
    const { running } = this;
    if (!running) return;
    await window.withProgress({ location: ProgressLocation.Window, title }, async () => {
      const open = this.panels.get(key);
      if (open) return open.panel.reveal(first);
      const icon = Uri.joinPath(this.extensionUri, 'media', 'icon.png');
      const panel = await ReportPanel.open({ client: running.client, ask, first, icon });
      this.panels.set(key, { root, follows, panel });
      panel.onClosed(() => this.panels.delete(key));
    });
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
