import type { ProtocolConnection } from 'vscode-languageserver/node';
import { listFilesRequest, readFilesRequest } from '../../../server/src/lsp/protocol.ts';
import type { Files, Wire } from './client.ts';

/** Address of the folder that holds lent files. */
export const lentRoot = 'bench:/shelf';

/** Answers a server that asks for files. Gives what changes them. */
export function lend(connection: ProtocolConnection, files: Files): Wire['write'] {
  const current = new Map(Object.entries(files));
  const below = (folder: string) => (folder === lentRoot ? '' : `${folder.slice(lentRoot.length + 1)}/`);
  connection.onRequest(listFilesRequest, ({ folder }) => {
    const paths = [...current.keys()].filter((path) => path.startsWith(below(folder)) && /\.ya?ml$/.test(path));
    return { paths: paths.map((path) => path.slice(below(folder).length)) };
  });
  connection.onRequest(readFilesRequest, ({ folder, paths }) => ({
    files: paths.map((path) => {
      const text = folder.startsWith(lentRoot) ? current.get(below(folder) + path) : undefined;
      return text === undefined
        ? { reason: 'nothing is there', isMissing: true }
        : { base64: Buffer.from(text).toString('base64') };
    }),
  }));
  return (path, text) => {
    if (text === undefined) current.delete(path);
    else current.set(path, text);
  };
}
