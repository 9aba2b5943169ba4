import type { ClientCapabilities, WorkspaceEdit } from 'vscode-languageserver';
import type { FileEdits } from '../core/edits/text-edit.ts';
import type { BaseSession, FileText } from './base-session.ts';
import { toTextEdits } from './to-text-edits.ts';

/** Edits of files of a base as a client takes them: with the versions they were made for, where it looks at these. */
export function toWorkspaceEdit(
  files: readonly FileEdits[],
  {
    base,
    client,
    texts,
  }: {
    readonly base: BaseSession;
    readonly client: ClientCapabilities;
    readonly texts: ReadonlyMap<string, Pick<FileText, 'positions'>>;
  },
): WorkspaceEdit {
  const edits = files.map(({ file, edits: ofFile }) => {
    const positions = texts.get(file)?.positions;
    return {
      uri: base.uriOf(file),
      version: base.opened.get(file)?.version ?? null,
      edits: positions ? toTextEdits(positions, ofFile) : [],
    };
  });
  if (client.workspace?.workspaceEdit?.documentChanges !== true) {
    return { changes: Object.fromEntries(edits.map(({ uri, edits: ofFile }) => [uri, ofFile])) };
  }
  return {
    documentChanges: edits.map(({ uri, version, edits: ofFile }) => ({
      textDocument: { uri, version },
      edits: ofFile,
    })),
  };
}
