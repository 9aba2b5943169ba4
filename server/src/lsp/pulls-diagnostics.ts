import type { ClientCapabilities } from 'vscode-languageserver';

/**
 * Whether a client asks for diagnostics and can be told to ask again. To all others they are sent: a change of one file changes what
 * is found in others, and a client that cannot be told would not learn of it.
 */
export function pullsDiagnostics({ textDocument, workspace }: ClientCapabilities): boolean {
  return textDocument?.diagnostic !== undefined && workspace?.diagnostics?.refreshSupport === true;
}
