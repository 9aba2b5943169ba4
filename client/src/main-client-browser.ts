/** The extension where it runs in a worker of a browser. */
import { type ExtensionContext, Uri } from 'vscode';
import { LanguageClient } from 'vscode-languageclient/browser';
import { Extension } from './extension.ts';

/** What is used of the browser's workers. */
declare const Worker: new (script: string) => globalThis.Worker & { terminate(): void };

let started: Promise<Extension> | undefined;

/** Called by the editor when the extension is first wanted. */
export function activate(context: ExtensionContext): Promise<Extension> {
  const script = Uri.joinPath(context.extensionUri, 'dist', 'main-lsp-browser.js').toString(true);
  started = Extension.start(context, (options) => {
    const worker = new Worker(script);
    return { client: new LanguageClient('swaplore', 'Swaplore', worker, options), end: () => worker.terminate() };
  });
  return started;
}

/** Called by the editor when it ends. */
export async function deactivate(): Promise<void> {
  await (await started)?.stop();
}
