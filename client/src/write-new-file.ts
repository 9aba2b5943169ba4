import { FileSystemError, type Uri, workspace } from 'vscode';

/** Writes a file that is not there yet, whole or not at all. False where there is one already, which stays as it is. Throws where it cannot be written. */
export async function writeNewFile(uri: Uri, text: string): Promise<boolean> {
  const aside = uri.with({ path: `${uri.path}.${crypto.randomUUID()}.tmp` });
  let isWritten = false;
  try {
    await workspace.fs.writeFile(aside, new TextEncoder().encode(text));
    isWritten = true;
    await workspace.fs.rename(aside, uri, { overwrite: false });
    return true;
  } catch (error) {
    await workspace.fs.delete(aside).then(undefined, () => undefined);
    // Editors also say that something exists where a file stands in the way of a folder; then nothing was written aside.
    if (isWritten && error instanceof FileSystemError && error.code === 'FileExists') return false;
    throw error;
  }
}
