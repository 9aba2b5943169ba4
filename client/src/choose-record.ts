import { window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type Choice, choicesRequest } from '../../server/src/lsp/protocol.ts';

/** What is asked where a record has to be chosen. */
export interface RecordChoice {
  readonly of: 'families' | 'drives';
  readonly title: string;
  readonly asks: string;
  /** What to say where there is none. */
  readonly none: string;
}

/** The id of the record at the cursor of the text somebody looks at, else of the one they choose; undefined where they choose none. */
export async function chooseRecord(
  client: BaseLanguageClient,
  root: string,
  choice: RecordChoice,
): Promise<string | undefined> {
  const { activeTextEditor: editor } = window;
  const address = editor?.document.uri.toString() ?? '';
  const here =
    editor && address.startsWith(`${root}/`)
      ? { uri: address, position: client.code2ProtocolConverter.asPosition(editor.selection.active) }
      : { uri: root };
  const choices = await client.sendRequest(choicesRequest, { of: choice.of, ...here });
  const found = choices.find(({ isHere }) => isHere === true);
  return found?.id ?? pickRecord(choices, choice);
}

/** The id of the record somebody chooses; undefined where they choose none. */
export async function pickRecord(
  choices: readonly Choice[],
  { title, asks, none }: Omit<RecordChoice, 'of'>,
): Promise<string | undefined> {
  if (choices.length === 0) {
    void window.showInformationMessage(none);
    return undefined;
  }
  const items = choices.map(({ id, detail }) => ({ label: id, description: detail }));
  return (await window.showQuickPick(items, { title, placeHolder: asks, matchOnDescription: true }))?.label;
}
