import { Uri, window } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { branchesRequest, type ReviewParams, reviewRequest } from '../../server/src/lsp/protocol.ts';
import type { AskForPage } from './report-panel.ts';

type Against = ReviewParams['against'];

const title = 'Review Changes Against a Branch';

/** Has somebody choose what the base is compared with, and says how to ask what its changes come to; undefined where nobody chose. */
export async function chooseReview(client: BaseLanguageClient, root: string): Promise<AskForPage | undefined> {
  const against = await chooseAgainst(client, root);
  return against && ((nonce) => client.sendRequest(reviewRequest, { against, uri: root, nonce }));
}

/** A branch or another revision, where the history can be read; else, or by choice, a folder that holds the base as it was. */
async function chooseAgainst(client: BaseLanguageClient, root: string): Promise<Against | undefined> {
  const { names, reason } = await client.sendRequest(branchesRequest, { uri: root });
  const items: { readonly label: string; readonly choose: () => Promise<Against | undefined> }[] = [
    ...names.map((revision) => ({ label: revision, choose: async () => ({ revision }) })),
    ...(reason === undefined ? [{ label: 'Another Revision…', choose: askForRevision }] : []),
    { label: 'A Folder That Holds the Base as It Was…', choose: () => chooseFolder(Uri.parse(root)) },
  ];
  const placeHolder = reason ?? 'Compare with which branch?';
  return (await window.showQuickPick(items, { title, placeHolder, ignoreFocusOut: true }))?.choose();
}

async function askForRevision(): Promise<Against | undefined> {
  const prompt = 'A tag, a commit, or another name of a revision';
  const revision = await window.showInputBox({ title, prompt, ignoreFocusOut: true });
  return revision ? { revision } : undefined;
}

async function chooseFolder(defaultUri: Uri): Promise<Against | undefined> {
  const options = { title, openLabel: 'Compare', defaultUri, canSelectFolders: true, canSelectFiles: false };
  const [folder] = (await window.showOpenDialog(options)) ?? [];
  return folder && { folder: folder.toString() };
}
