/** The extension where it runs in Node: in desktop VS Code, and on the far side of a remote window. */
import { type ExtensionContext, Uri } from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import { Extension } from './extension.ts';

let started: Promise<Extension> | undefined;

/** Called by the editor when the extension is first wanted. */
export function activate(context: ExtensionContext): Promise<Extension> {
  const module = Uri.joinPath(context.extensionUri, 'dist', 'main-lsp-node.cjs').fsPath;
  started = Extension.start(context, (options) => ({
    client: new LanguageClient('swaplore', 'Swaplore', { module, transport: TransportKind.ipc }, options),
    end: () => undefined,
  }));
  return started;
}

/** Called by the editor when it ends. */
export async function deactivate(): Promise<void> {
  await (await started)?.stop();
}
