import { commands, FileSystemError, type QuickPickItem, Uri, window, workspace } from 'vscode';
import type { NewBaseAnswer, NewBaseParams } from '../../server/src/lsp/protocol.ts';
import { configName, findAround } from './find-bases.ts';
import { messageOf } from './message-of.ts';
import { writeNewFile } from './write-new-file.ts';

type NewFile = NewBaseAnswer['files'][number];

/** Asks for a folder and a name, shows what would be written there, and makes a base of it. What is there already stays as it is. */
export async function createBase(askFor: (params: NewBaseParams) => Promise<NewBaseAnswer>): Promise<void> {
  const folder = await chooseFolder();
  if (!folder) return;
  const around = await findAround(folder);
  if (around) return complain(`${shown(folder)} lies in a base already: ${shown(around)}.`);
  const name = await window.showInputBox({
    title: 'Create a Knowledge Base',
    prompt: 'What is the base called?',
    value: folder.path.split('/').at(-1) || folder.authority,
    validateInput: (typed) => (typed.trim() === '' ? 'A name is needed.' : undefined),
  });
  if (name === undefined) return;
  const { files } = await askFor({ name, date: localDate(new Date()) });
  const chosen = await chooseFiles(folder, files);
  if (!chosen || !(await write(folder, chosen))) return;
  await window.showTextDocument(Uri.joinPath(folder, configName));
  if (!workspace.getWorkspaceFolder(folder)) await offerToOpen(folder);
}

const otherFolder = 'Another Folder…';

async function chooseFolder(): Promise<Uri | undefined> {
  const folders = workspace.workspaceFolders ?? [];
  if (folders.length === 0) return browse();
  const items: readonly (QuickPickItem & { readonly uri?: Uri })[] = [
    ...folders.map(({ name, uri }) => ({ label: name, description: shown(uri), uri })),
    { label: otherFolder },
  ];
  const picked = await window.showQuickPick(items, {
    title: 'Create a Knowledge Base',
    placeHolder: 'In which folder?',
  });
  return picked && (picked.uri ?? browse());
}

async function browse(): Promise<Uri | undefined> {
  const options = { canSelectFiles: false, canSelectFolders: true, openLabel: 'Create Here' };
  return (await window.showOpenDialog(options))?.[0];
}

/** The files to write, as somebody agreed to; undefined where they did not. The config is always among them, and last. */
async function chooseFiles(folder: Uri, files: readonly NewFile[]): Promise<readonly NewFile[] | undefined> {
  const present = await Promise.all(files.map(({ path }) => isThere(Uri.joinPath(folder, path))));
  const kept = files.filter((_, position) => present[position]).map(({ path }) => path);
  const items = files
    .filter((_, position) => !present[position])
    .map((file) => ({ label: file.path, picked: true, file }));
  const picked = await window.showQuickPick(items, {
    title: `Write These Files to ${shown(folder)}?`,
    placeHolder: kept.length > 0 ? `There already, and left as they are: ${kept.join(', ')}` : 'All of them are new',
    canPickMany: true,
  });
  return picked && files.filter((file) => file.path === configName || picked.some((item) => item.file === file));
}

/** Writes files in order; gives whether all could be. The first that cannot ends it. */
async function write(folder: Uri, files: readonly NewFile[]): Promise<boolean> {
  const written: string[] = [];
  for (const { path, text } of files) {
    const uri = Uri.joinPath(folder, path);
    try {
      // One that somebody made meanwhile stays as it is.
      if (await writeNewFile(uri, text)) written.push(path);
    } catch (error) {
      const before = written.length > 0 ? ` Written before, and left there: ${written.join(', ')}.` : '';
      complain(`${path} cannot be written: ${messageOf(error)}.${before}`);
      return false;
    }
  }
  return true;
}

/** Whether something is there. Throws where nobody can tell, since a file that is there would be overwritten. */
async function isThere(uri: Uri): Promise<boolean> {
  try {
    await workspace.fs.stat(uri);
    return true;
  } catch (error) {
    if (error instanceof FileSystemError && error.code === 'FileNotFound') return false;
    throw error;
  }
}

async function offerToOpen(folder: Uri): Promise<void> {
  const open = 'Open Folder';
  const answer = await window.showInformationMessage('The base is made. It is read once its folder is open.', open);
  if (answer === open) await commands.executeCommand('vscode.openFolder', folder);
}

function complain(message: string): void {
  void window.showErrorMessage(message);
}

function shown(uri: Uri): string {
  return workspace.asRelativePath(uri, true);
}

/** The day where the extension runs, as `2026-03-14`. */
function localDate(now: Date): string {
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
