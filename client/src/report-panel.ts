import { type Disposable, type Location, type Uri, ViewColumn, type WebviewPanel, window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { ReportAnswer } from '../../server/src/lsp/protocol.ts';

/** Quiet time before a page is asked for again, so that it does not change with every letter somebody types. */
const quietMs = 500;

/** Asks for a page of a panel: that of a report by its name, which is empty where the panel has one page only. */
export type AskForPage = (nonce: string, report: string) => Promise<ReportAnswer>;

/** What a panel is made from. */
export interface ReportPanelOptions {
  readonly client: BaseLanguageClient;
  readonly ask: AskForPage;
  /** The report it opens with. */
  readonly first: string;
  readonly icon: Uri;
}

/** A panel with reports of one base, kept up to date. */
export class ReportPanel implements Disposable {
  /** The report somebody chose last. */
  private report: string;
  private places: readonly Location[] = [];
  private timer: ReturnType<typeof setTimeout> | undefined;
  private isOutdated = false;

  private constructor(
    private readonly options: ReportPanelOptions,
    private readonly nonce: string,
    private readonly panel: WebviewPanel,
  ) {
    this.report = options.first;
    panel.iconPath = options.icon;
    panel.webview.onDidReceiveMessage((message) => this.hear(message));
    panel.onDidChangeViewState(() => this.refreshIfSeen());
    panel.onDidDispose(() => clearTimeout(this.timer));
  }

  /** Opens a panel, once there is something to show in it. */
  static async open(options: ReportPanelOptions): Promise<ReportPanel> {
    const nonce = newNonce();
    const page = await options.ask(nonce, options.first);
    const panel = window.createWebviewPanel('swaplore.report', page.title, ViewColumn.Active, {
      enableScripts: true,
      enableForms: false,
      enableFindWidget: true,
      localResourceRoots: [],
    });
    const opened = new ReportPanel(options, nonce, panel);
    opened.put(page);
    return opened;
  }

  /** Calls back when the panel is closed, by whomever. */
  onClosed(call: () => void): void {
    this.panel.onDidDispose(call);
  }

  /** Shows a report, and brings the panel to the front. */
  async reveal(report: string): Promise<void> {
    this.panel.reveal();
    await this.load(report);
  }

  /** To be called when other things are found in the base than were. */
  outdate(): void {
    this.isOutdated = true;
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.refreshIfSeen(), quietMs);
  }

  dispose(): void {
    this.panel.dispose();
  }

  private refreshIfSeen(): void {
    if (this.panel.visible && this.isOutdated) this.tell(this.load(this.report));
  }

  private async load(report: string): Promise<void> {
    this.report = report;
    this.isOutdated = false;
    const page = await this.options.ask(this.nonce, report);
    if (report === this.report) this.put(page);
  }

  private put({ title, html, places }: ReportAnswer): void {
    const { panel, options } = this;
    this.places = places.map((place) => options.client.protocol2CodeConverter.asLocation(place));
    panel.title = title;
    // The same page, put in again, would lose what is selected and has the focus in it.
    if (panel.webview.html !== html) panel.webview.html = html;
  }

  /** Takes what the script of the page says somebody chose. */
  private hear(message: { readonly place?: unknown; readonly report?: unknown }): void {
    const { place, report } = message;
    const location = typeof place === 'number' ? this.places[place] : undefined;
    if (location) this.tell(this.showPlace(location));
    // The server knows which reports there are.
    if (typeof report === 'string') this.tell(this.load(report));
  }

  private async showPlace({ uri, range: selection }: Location): Promise<void> {
    // Beside the panel, and where other files are open already.
    const viewColumn = this.panel.viewColumn === ViewColumn.One ? ViewColumn.Beside : ViewColumn.One;
    await window.showTextDocument(uri, { selection, viewColumn });
  }

  /** The page stays as it is where an answer cannot be had; the log says why. */
  private tell(answer: Promise<void>): void {
    answer.catch((error: unknown) => this.options.client.error('The report cannot be shown', error));
  }
}

/** A word nobody can guess, by which the page knows its own script and style. */
function newNonce(): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, '0')).join('');
}
