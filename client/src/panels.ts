import { type Disposable, ProgressLocation, Uri, window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { BaseState } from '../../server/src/lsp/protocol.ts';
import { messageOf } from './message-of.ts';
import type { ShownPanel } from './panel-commands.ts';
import { ReportPanel } from './report-panel.ts';

interface OpenPanel extends Pick<ShownPanel, 'follows'> {
  /** Address of the base. */
  readonly root: string;
  readonly panel: ReportPanel;
}

/** The open panels of all bases. */
export class Panels implements Disposable {
  /** By base and key. */
  private readonly open = new Map<string, OpenPanel>();

  constructor(private readonly extensionUri: Uri) {}

  /**
   * Opens a panel of a base. One that follows its base is brought to the front instead, if it is open; one that does not is made anew.
   * What stands in its way is said.
   */
  async show(client: BaseLanguageClient, root: string, shown: ShownPanel): Promise<void> {
    if (!shown.follows) this.open.get(nameOf(root, shown))?.panel.dispose();
    await this.put(client, root, shown).catch((error: unknown) => {
      void window.showErrorMessage(messageOf(error));
    });
  }

  /** Has the panels of a base asked for anew, or closes them where it is gone. */
  take({ root, state }: BaseState): void {
    for (const { follows, panel } of [...this.open.values()].filter((one) => one.root === root)) {
      if (state === 'checked' && follows) panel.outdate();
      if (state === 'gone') panel.dispose();
    }
  }

  dispose(): void {
    for (const { panel } of this.open.values()) panel.dispose();
  }

  private async put(client: BaseLanguageClient, root: string, shown: ShownPanel): Promise<void> {
    const { follows, ask, first = '', title } = shown;
    const name = nameOf(root, shown);
    await window.withProgress({ location: ProgressLocation.Window, title }, async () => {
      const open = this.open.get(name);
      if (open) return open.panel.reveal(first);
      const icon = Uri.joinPath(this.extensionUri, 'media', 'icon.png');
      const panel = await ReportPanel.open({ client, ask, first, icon });
      this.open.set(name, { root, follows, panel });
      panel.onClosed(() => this.open.delete(name));
    });
  }
}

function nameOf(root: string, { key }: ShownPanel): string {
  return `${root} ${key}`;
}
