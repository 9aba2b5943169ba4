import { window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { choicesRequest, traceRequest } from '../../server/src/lsp/protocol.ts';
import type { AskForPage } from './report-panel.ts';

/** Has somebody choose an outcome that names captures, and says how to ask for what these come to; undefined where nobody chose. */
export async function chooseTrace(
  client: BaseLanguageClient,
  root: string,
): Promise<{ readonly outcome: string; readonly ask: AskForPage } | undefined> {
  const choices = await client.sendRequest(choicesRequest, { of: 'traces', uri: root });
  if (choices.length === 0) {
    void window.showInformationMessage('No outcome of this base names a capture. "swaplore capture" makes them.');
    return undefined;
  }
  const items = choices.map(({ id, detail }) => ({ label: id, description: detail }));
  const options = { title: 'Trace Identity from Captures', placeHolder: 'Of which outcome?', matchOnDescription: true };
  const outcome = (await window.showQuickPick(items, options))?.label;
  if (outcome === undefined) return undefined;
  return { outcome, ask: (nonce) => client.sendRequest(traceRequest, { outcome, uri: root, nonce }) };
}
