import { LSPErrorCodes, ResponseError } from 'vscode-languageserver';
import type { BaseSession } from './base-session.ts';

/** Throws the answer where the config of a base cannot be used, so that nothing is known of its records. */
export function requireUsable({ snapshot, name }: BaseSession): void {
  if (snapshot.configFile.reading.isUsable) return;
  throw new ResponseError(LSPErrorCodes.RequestFailed, `The base ${name} has a config that cannot be used.`);
}
