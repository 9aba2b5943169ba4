import type { ClientCapabilities, SnippetTextEdit, TextEdit, WorkspaceEdit } from 'vscode-languageserver';
import type { FileEdits } from '../core/edits/text-edit.ts';
import type { ActionEdits } from '../core/features/action.ts';
import type { BaseSession, FileText } from './base-session.ts';
import { toTextEdits } from './to-text-edits.ts';

/** Edits of a file; where it does not say so, the file is there and no text is a snippet. */
type Edits = FileEdits & Partial<ActionEdits>;

/** Edits of files of a base as a client takes them: with the versions they were made for, where it looks at these. */
export function toWorkspaceEdit(
  files: readonly Edits[],
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
  const edits = files.map((ofFile) => ({
    uri: base.uriOf(ofFile.file),
    version: base.opened.get(ofFile.file)?.version ?? null,
    edits: editsOf(ofFile, texts),
    ofFile,
  }));
  if (client.workspace?.workspaceEdit?.documentChanges !== true) {
    return { changes: Object.fromEntries(edits.map(({ uri, edits: ofFile }) => [uri, ofFile])) };
  }
  return {
    documentChanges: edits.flatMap(({ uri, version, edits: changes, ofFile: { isNew = false, isSnippet = false } }) => [
      // Without a word on overwriting, a client that finds the file there after all has to give up.
      ...(isNew ? [{ kind: 'create', uri } as const] : []),
      { textDocument: { uri, version }, edits: isSnippet ? changes.map(toSnippet) : changes },
    ]),
  };
}

function editsOf({ file, edits, isNew }: Edits, texts: ReadonlyMap<string, Pick<FileText, 'positions'>>): TextEdit[] {
  const start = { line: 0, character: 0 };
  if (isNew) return edits.map(({ text }) => ({ range: { start, end: start }, newText: text }));
  const positions = texts.get(file)?.positions;
  return positions ? toTextEdits(positions, edits) : [];
}

function toSnippet({ range, newText }: TextEdit): SnippetTextEdit {
  return { range, snippet: { kind: 'snippet', value: newText } };
}
