import { URI, Utils } from 'vscode-uri';

/** The one spelling by which addresses are compared; clients escape more or fewer characters. A slash at the end is dropped. */
export function canonicalUri(uri: string): string {
  return URI.parse(uri).toString().replace(/\/$/, '');
}

/** The folder a file or folder lies in; that of the topmost is itself. */
export function folderOf(uri: string): string {
  return canonicalUri(Utils.dirname(URI.parse(uri)).toString());
}

/** The path of a file below a folder, with `/`; undefined where it does not lie there. Both in the canonical spelling. */
export function pathBelow(folder: string, uri: string): string | undefined {
  if (!uri.startsWith(`${folder}/`)) return undefined;
  return URI.parse(uri).path.slice(URI.parse(folder).path.length + (folder.endsWith('/') ? 0 : 1));
}

/** The address of a file below a folder. */
export function uriBelow(folder: string, path: string): string {
  // A folder at the top of an address has no path to join to.
  return Utils.joinPath(URI.parse(`${folder}/`), path).toString();
}
