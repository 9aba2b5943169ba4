import {
  type CodeAction,
  CodeActionRequest,
  DocumentFormattingRequest,
  RenameRequest,
  ResponseError,
  type TextDocumentContentChangeEvent,
  type TextDocumentEdit,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver/node';
import { LineIndex } from '../../../server/src/core/text/line-index.ts';
import type { Client, Files } from './client.ts';
import type { Connect } from './connections.ts';
import { editedText } from './edited-text.ts';

/** What an editor says it can do, so that edits come with versions. */
const capabilities = {
  workspace: { workspaceEdit: { documentChanges: true }, workspaceFolders: true },
  textDocument: {
    codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: [] } } },
    publishDiagnostics: { relatedInformation: true, versionSupport: true },
  },
};

interface Held {
  readonly text: string;
  /** Null where the file is not open. */
  readonly version: number | null;
}

/**
 * An editor that has all files of a base open which servers of YAML are told of, and does with edits what editors do: those for an older
 * version are refused. What it does to other files is saved at once.
 */
export class Editor {
  private constructor(
    readonly client: Client,
    private readonly current: Map<string, Held>,
  ) {}

  static async of(connect: Connect, files: Files): Promise<Editor> {
    const client = await connect(files, { capabilities });
    const editor = new Editor(client, new Map());
    for (const [path, text] of Object.entries(client.files)) {
      const isOpen = /\.ya?ml$/.test(path);
      if (isOpen) await client.open(path);
      editor.current.set(path, { text, version: isOpen ? 1 : null });
    }
    return editor;
  }

  /** The texts as they stand in the editor. */
  get texts(): Readonly<Record<string, string>> {
    return Object.fromEntries(Array.from(this.current, ([path, { text }]) => [path, text]));
  }

  /** Puts another text in place of one. */
  async type(path: string, text: string): Promise<void> {
    await this.put(path, text, [{ text }]);
  }

  /** What is offered in a whole file, of some kinds where any are named. */
  async offered(path: string, only?: string[]): Promise<readonly CodeAction[]> {
    const end = { line: 1_000_000, character: 0 };
    const answer = await this.client.ask(CodeActionRequest.type, {
      textDocument: { uri: this.client.uriOf(path) },
      range: { start: { line: 0, character: 0 }, end },
      context: { diagnostics: [], ...(only ? { only } : {}) },
    });
    return (answer ?? []) as CodeAction[];
  }

  /** Renames what stands at an offset; says whether that was done. */
  async rename(path: string, offset: number, newName: string): Promise<boolean> {
    const position = new LineIndex(this.current.get(path)?.text ?? '').positionAt(offset);
    const params = { textDocument: { uri: this.client.uriOf(path) }, position, newName };
    try {
      await this.apply((await this.client.ask(RenameRequest.type, params)) ?? {});
      return true;
    } catch (error) {
      if (error instanceof ResponseError) return false;
      throw error;
    }
  }

  /** Lays a file out. */
  async format(path: string): Promise<void> {
    const textDocument = { uri: this.client.uriOf(path) };
    const options = { tabSize: 2, insertSpaces: true };
    const edits = (await this.client.ask(DocumentFormattingRequest.type, { textDocument, options })) ?? [];
    if (edits.length > 0) await this.edit(path, edits);
  }

  /** Applies an edit that came with versions. Throws where it was made for another version than the one that stands. */
  async apply({ changes, documentChanges = [] }: WorkspaceEdit): Promise<void> {
    if (changes) throw new Error('The edit came without versions.');
    for (const { textDocument, edits } of documentChanges as TextDocumentEdit[]) {
      const path = this.client.pathOf(textDocument.uri);
      const version = this.current.get(path)?.version;
      if (textDocument.version !== version)
        throw new Error(`The edit of ${path} was made for version ${textDocument.version}, not ${version}.`);
      await this.edit(path, edits as TextEdit[]);
    }
  }

  /** Sends edits as a text editor does: each as a change of its own, from the last to the first. */
  private async edit(path: string, edits: readonly TextEdit[]): Promise<void> {
    const { text = '' } = this.current.get(path) ?? {};
    const changes = edits.toReversed().map(({ range, newText }) => ({ range, text: newText }));
    await this.put(path, editedText(text, edits), changes);
  }

  private async put(path: string, text: string, changes: TextDocumentContentChangeEvent[]): Promise<void> {
    const isOpen = this.current.get(path)?.version !== null;
    const version = isOpen ? await this.client.change(path, changes) : null;
    if (!isOpen) await this.client.save(path, text);
    this.current.set(path, { text, version });
  }
}
