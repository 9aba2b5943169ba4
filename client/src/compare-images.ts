import { Uri, window, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  choicesRequest,
  compareImagesRequest,
  isOneRead,
  mostImageBytes,
  type SentImage,
  tooLargeForRom,
} from '../../server/src/lsp/protocol.ts';
import type { AskForPage } from './report-panel.ts';
import { toBase64 } from './to-base64.ts';
import { whyNot } from './why-not.ts';

/** Has somebody choose images of ROM chips, and says how to ask what they come to; undefined where nobody chose. */
export async function chooseImages(client: BaseLanguageClient, root: string): Promise<AskForPage | undefined> {
  const folder = Uri.parse(root);
  const read1 = await chooseFile("The first read of the patient's chip", folder);
  if (!read1) return undefined;
  const read2 = await chooseOther('The second read of the same chip', 'It was read once', folder);
  if (read2 === undefined) return undefined;
  const donorNow = await chooseOther("What is on the donor's chip now", 'Not read', folder);
  if (donorNow === undefined) return undefined;
  const drive = await chooseDrive(client, root);
  if (drive === undefined) return undefined;
  return async (nonce) => {
    const chosen = [read1, read2, donorNow].filter((one) => one !== 'none').map(String);
    const again = chosen.find((uri, position) => chosen.indexOf(uri) < position);
    if (again !== undefined) throw new Error(isOneRead(workspace.asRelativePath(Uri.parse(again))));
    const images = {
      read1: await toImage(read1),
      ...(read2 === 'none' ? {} : { read2: await toImage(read2) }),
      ...(donorNow === 'none' ? {} : { donorNow: await toImage(donorNow) }),
    };
    const of = drive === 'none' ? {} : { drive: drive.id };
    return client.sendRequest(compareImagesRequest, { ...images, ...of, uri: root, nonce });
  };
}

async function chooseFile(title: string, defaultUri: Uri): Promise<Uri | undefined> {
  return (await window.showOpenDialog({ title, openLabel: 'Compare', defaultUri }))?.[0];
}

/** A file that need not be there. */
async function chooseOther(title: string, without: string, folder: Uri): Promise<Uri | 'none' | undefined> {
  const items = [{ label: 'Choose a File…' }, { label: without, isNone: true }];
  const picked = await window.showQuickPick(items, { title, ignoreFocusOut: true });
  return picked && (picked.isNone ? 'none' : chooseFile(title, folder));
}

/** The recorded drive whose chip was read. */
async function chooseDrive(
  client: BaseLanguageClient,
  root: string,
): Promise<{ readonly id: string } | 'none' | undefined> {
  const choices = await client.sendRequest(choicesRequest, { of: 'drives', uri: root });
  const items = [
    { label: 'Not recorded', isNone: true },
    ...choices.map(({ id, detail }) => ({ label: id, description: detail, isNone: false })),
  ];
  const options = { title: 'Whose chip was read?', matchOnDescription: true, ignoreFocusOut: true };
  const picked = await window.showQuickPick(items, options);
  return picked && (picked.isNone ? 'none' : { id: picked.label });
}

async function toImage(uri: Uri): Promise<SentImage> {
  const name = workspace.asRelativePath(uri);
  const { size } = await orWhyNot(name, workspace.fs.stat(uri));
  if (size > mostImageBytes) throw new Error(tooLargeForRom(name, size));
  return { name, base64: toBase64(await orWhyNot(name, workspace.fs.readFile(uri))) };
}

/** What is read of a file; throws in words where it cannot be read. */
async function orWhyNot<Read>(name: string, read: Thenable<Read>): Promise<Read> {
  try {
    return await read;
  } catch (error) {
    throw new Error(`${name} cannot be read: ${whyNot(error).reason}.`);
  }
}
