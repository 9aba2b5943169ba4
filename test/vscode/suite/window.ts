import { type Diagnostic, extensions, languages, type TextDocument, Uri, window, workspace } from 'vscode';
import type { Extension } from '../../../client/src/extension.ts';
import { ok, until } from './assert.ts';

/** The extension under test. */
export function extension() {
  const found = extensions.getExtension<Extension>('swaplore.swaplore');
  ok(found, 'the extension is not there');
  return found;
}

/** The address of a file of the folder that the window shows. */
export function uriOf(path: string): Uri {
  const folder = workspace.workspaceFolders?.[0];
  ok(folder, 'no folder is open');
  return Uri.joinPath(folder.uri, path);
}

/** Opens a file in an editor. */
export async function open(path: string): Promise<TextDocument> {
  const document = await workspace.openTextDocument(uriOf(path));
  await window.showTextDocument(document);
  return document;
}

/** What is saved of a file. */
export async function savedText(path: string): Promise<string> {
  const bytes = await workspace.fs.readFile(uriOf(path));
  return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
}

/** What the extension found in a file. */
export function findingsIn(path: string): Diagnostic[] {
  return languages.getDiagnostics(uriOf(path)).filter(({ source }) => source === 'swaplore');
}

/** Waits until all is read and checked. */
export function settled(): Promise<string> {
  return until('the base to be checked', () => {
    const text = extension().isActive ? extension().exports.statusText : undefined;
    return text !== undefined && !text.includes('sync') && text;
  });
}
