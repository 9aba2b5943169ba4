import { FileType, Uri, workspace } from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import {
  fileSizesRequest,
  listFilesRequest,
  readFilesRequest,
  type SentFile,
  type SentSize,
} from '../../server/src/lsp/protocol.ts';
import { toBase64 } from './to-base64.ts';
import { whyNot } from './why-not.ts';

/** Answers a server that cannot reach files itself, since only the editor can. */
export function lendFiles(client: BaseLanguageClient): void {
  client.onRequest(listFilesRequest, async ({ folder }) => ({ paths: await listFiles(folderAt(folder), '') }));
  client.onRequest(readFilesRequest, async ({ folder, paths }) => {
    const root = folderAt(folder);
    return { files: await Promise.all(paths.map((path) => readFile(Uri.joinPath(root, path)))) };
  });
  client.onRequest(fileSizesRequest, async ({ folder, paths }) => {
    const root = folderAt(folder);
    const isLink = linkFinder(root);
    return { files: await Promise.all(paths.map((path) => sizeOf(root, path, isLink))) };
  });
}

/** The folder with this address. One at the top of an address is named without the slash that is its path. */
function folderAt(address: string): Uri {
  return Uri.parse(`${address}/`);
}

/** YAML files at or below a folder. It is walked, since not every folder of this kind is searched; links are not followed. */
async function listFiles(folder: Uri, before: string): Promise<string[]> {
  const entries = await workspace.fs.readDirectory(folder).then(
    (found) => found,
    () => [],
  );
  const lists = entries.map(([name, type]) => {
    if (type === FileType.Directory)
      return isWalked(name) ? listFiles(Uri.joinPath(folder, name), `${before}${name}/`) : [];
    return type === FileType.File && /\.ya?ml$/.test(name) ? [before + name] : [];
  });
  return (await Promise.all(lists)).flat();
}

/** Folders in which no base lies, and which may be vast. */
function isWalked(name: string): boolean {
  return !name.startsWith('.') && name !== 'node_modules';
}

async function readFile(uri: Uri): Promise<SentFile> {
  try {
    return { base64: toBase64(await workspace.fs.readFile(uri)) };
  } catch (error) {
    return whyNot(error);
  }
}

/** Links are not followed, neither to the file nor on the way to it. */
async function sizeOf(root: Uri, path: string, isLink: (folder: string) => Promise<boolean>): Promise<SentSize> {
  try {
    const { size, type } = await workspace.fs.stat(Uri.joinPath(root, path));
    if (type & FileType.SymbolicLink || (await isLink(folderOf(path)))) {
      return { reason: 'it is a link, or lies behind one, and links are not followed', isMissing: false };
    }
    return type & FileType.Directory ? { reason: 'it is a folder', isMissing: false } : { bytes: size };
  } catch (error) {
    return whyNot(error);
  }
}

/** Says of folders below one whether they are links or lie behind one. Each is asked about once. */
function linkFinder(root: Uri): (folder: string) => Promise<boolean> {
  const known = new Map<string, Promise<boolean>>();
  const look = async (folder: string): Promise<boolean> => {
    const { type } = await workspace.fs.stat(Uri.joinPath(root, folder));
    return (type & FileType.SymbolicLink) !== 0 || isLink(folderOf(folder));
  };
  const isLink = (folder: string): Promise<boolean> => {
    if (folder === '') return Promise.resolve(false);
    const answer = known.get(folder) ?? look(folder);
    known.set(folder, answer);
    return answer;
  };
  return isLink;
}

function folderOf(path: string): string {
  return path.slice(0, Math.max(0, path.lastIndexOf('/')));
}
