import { window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { choicesRequest } from '../../server/src/lsp/protocol.ts';

/** The id of the family at the cursor of the text somebody looks at, else the one they choose; undefined where they choose none. */
export async function chooseFamily(client: BaseLanguageClient, root: string): Promise<string | undefined> {
  const { activeTextEditor: editor } = window;
  const address = editor?.document.uri.toString() ?? '';
  const here =
    editor && address.startsWith(`${root}/`)
      ? { uri: address, position: client.code2ProtocolConverter.asPosition(editor.selection.active) }
      : { uri: root };
  const choices = await client.sendRequest(choicesRequest, { of: 'families', ...here });
  const found = choices.find(({ isHere }) => isHere === true);
  if (found) return found.id;
  if (choices.length === 0) {
    void window.showInformationMessage('No family is recorded in this base.');
    return undefined;
  }
  const items = choices.map(({ id, detail }) => ({ label: id, description: detail }));
  const options = { title: 'Show Odds', placeHolder: 'Of which family?', matchOnDescription: true };
  return (await window.showQuickPick(items, options))?.label;
}
