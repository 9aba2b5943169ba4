/**
 * What server and client say to each other beyond the language server protocol. A client lends the server its files where it says so
 * in `initializationOptions`; the server asks for nothing a client did not offer.
 */
import type { Connection, InitializeParams } from 'vscode-languageserver';
import { NotificationType, RequestType } from 'vscode-languageserver-protocol';
import type { ClientFiles, SentFile } from '../host/client-store.ts';

/** Options that `initialize` may carry, besides settings. */
export interface ClientOffers {
  /** Whether the client answers `swaplore/listFiles` and `swaplore/readFiles`, for folders with any address. */
  readonly files?: boolean;
  /** Whether the client takes `swaplore/baseState`. */
  readonly baseStates?: boolean;
}

/** All YAML files at or below a folder, relative to it, with `/`. */
export const listFilesRequest = new RequestType<
  { readonly folder: string },
  { readonly paths: readonly string[] },
  void
>('swaplore/listFiles');

/** Files of a folder by path, in the order asked for. */
export const readFilesRequest = new RequestType<
  { readonly folder: string; readonly paths: readonly string[] },
  { readonly files: readonly SentFile[] },
  void
>('swaplore/readFiles');

/** How a base stands. `root` is the address of its folder. */
export type BaseState = { readonly root: string; readonly name: string } & (
  | { readonly state: 'reading' | 'gone' }
  | { readonly state: 'checked'; readonly errors: number; readonly warnings: number }
);

/** Tells a client how a base stands. */
export const baseStateNotification = new NotificationType<BaseState>('swaplore/baseState');

/** What a client said it can do. */
export function offersOf(initializationOptions: unknown): ClientOffers {
  return initializationOptions ?? {};
}

/** The files of a client; undefined where it does not lend them. */
export function clientFiles(
  connection: Connection,
  { initializationOptions }: InitializeParams,
): ClientFiles | undefined {
  if (offersOf(initializationOptions).files !== true) return undefined;
  return {
    list: async (folder) => (await connection.sendRequest(listFilesRequest, { folder })).paths,
    read: async (folder, paths) => (await connection.sendRequest(readFilesRequest, { folder, paths })).files,
  };
}
