import { Uri, workspace } from 'vscode';

/** The file that makes a folder a base. */
export const configName = 'swaplore.yaml';

/** The folders of the bases in and around the folders of the workspace, sorted by address. */
export async function findBases(): Promise<readonly Uri[]> {
  const folders = workspace.workspaceFolders ?? [];
  // A folder that only an extension can read is not always searched: what lies in its root is found without.
  const [inside, around] = await Promise.all([
    workspace.findFiles(`**/${configName}`),
    Promise.all(folders.map(({ uri }) => findAround(uri))),
  ]);
  const found = [...inside.map(folderOf), ...around.filter((folder) => folder !== undefined)];
  const byAddress = new Map(found.map((folder) => [folder.toString(), folder]));
  return [...byAddress].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, folder]) => folder);
}

/** The nearest folder at or above this one that holds a config. */
export async function findAround(folder: Uri): Promise<Uri | undefined> {
  if (await isFile(Uri.joinPath(folder, configName))) return folder;
  const above = folderOf(folder);
  return above.path === folder.path ? undefined : findAround(above);
}

function folderOf(uri: Uri): Uri {
  return Uri.joinPath(uri, '..');
}

async function isFile(uri: Uri): Promise<boolean> {
  return workspace.fs.stat(uri).then(
    () => true,
    () => false,
  );
}
