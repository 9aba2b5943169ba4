import { FileSystemError } from 'vscode';

/** Why the editor does not give a file, in words, and whether that is because there is none. */
export function whyNot(error: unknown): { readonly reason: string; readonly isMissing: boolean } {
  const isMissing = error instanceof FileSystemError && error.code === 'FileNotFound';
  return { reason: isMissing ? 'it does not exist' : 'the editor cannot read it', isMissing };
}
