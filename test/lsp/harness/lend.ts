import type { ProtocolConnection } from 'vscode-languageserver/node';
import { fileSizesRequest, listFilesRequest, readFilesRequest } from '../../../server/src/lsp/protocol.ts';
import type { Files, Wire } from './client.ts';

/** Address of the folder that holds lent files. */
export const lentRoot = 'bench:/shelf';

/** Answers a server that asks for files; which there are is told from `listedFrom` on. */
export function lend(
  connection: ProtocolConnection,
  files: Files,
  listedFrom?: Promise<void>,
): Pick<Wire, 'write' | 'asked'> {
  const current = new Map(Object.entries(files));
  const asked: string[] = [];
  const below = (folder: string) => (folder === lentRoot ? '' : `${folder.slice(lentRoot.length + 1)}/`);
  connection.onRequest(listFilesRequest, async ({ folder }) => {
    await listedFrom;
    asked.push(`${folder}/`);
    const paths = [...current.keys()].filter((path) => path.startsWith(below(folder)) && /\.ya?ml$/.test(path));
    return { paths: paths.map((path) => path.slice(below(folder).length)) };
  });
  connection.onRequest(readFilesRequest, ({ folder, paths }) => ({
    files: paths.map((path) => {
      asked.push(`${folder}/${path}`);
      const file = folder.startsWith(lentRoot) ? current.get(below(folder) + path) : undefined;
      return file === undefined
        ? { reason: 'nothing is there', isMissing: true }
        : { base64: Buffer.from(file).toString('base64') };
    }),
  }));
  connection.onRequest(fileSizesRequest, ({ folder, paths }) => ({
    files: paths.map((path) => {
      const at = below(folder) + path;
      const file = current.get(at);
      if (file !== undefined) return { bytes: Buffer.from(file).length };
      const isFolder = [...current.keys()].some((other) => other.startsWith(`${at}/`));
      return isFolder
        ? { reason: 'it is a folder', isMissing: false }
        : { reason: 'nothing is there', isMissing: true };
    }),
  }));
  const write = (path: string, text: string | undefined): void => {
    if (text === undefined) current.delete(path);
    else current.set(path, text);
  };
  return { write, asked };
}
