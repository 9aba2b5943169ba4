/**
 * What server and client say to each other beyond the language server protocol. A client lends the server its files where it says so
 * in `initializationOptions`; the server asks for nothing a client did not offer.
 */
import type { Connection, InitializeParams, Location } from 'vscode-languageserver';
import { NotificationType, ProtocolRequestType, RequestType } from 'vscode-languageserver-protocol';
import type { ReportName } from '../core/reports/report-set.ts';
import type { ClientFiles, SentFile } from '../host/client-store.ts';

/** What is sent of a file. */
export type { SentFile };

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

/** What a client asks of a report. */
export interface ReportParams {
  readonly report: ReportName;
  /** Address of a base's folder or of anything in it. Not needed where there is one base only. */
  readonly uri?: string;
  /** What the panel's policy knows style and script by: 16 letters and figures or more, made anew for every page. */
  readonly nonce: string;
}

/** A report as a page that a panel shows as it is. Its script tells the panel's host which `{ place }` or `{ report }` somebody chose. */
export interface ReportAnswer {
  readonly title: string;
  readonly html: string;
  /** What the numbers of places stand for. */
  readonly places: readonly Location[];
}

/** A report of a base, with all that open documents change in it. */
export const reportRequest = new ProtocolRequestType<ReportParams, ReportAnswer, never, void, void>('swaplore/report');

/** What a new base is called, and the day it is made, such as `2026-03-14`. */
export interface NewBaseParams {
  readonly name: string;
  readonly date: string;
}

/** The files of a new base, by path below its folder. They are to be written in this order, and in the place of no others. */
export interface NewBaseAnswer {
  readonly files: readonly { readonly path: string; readonly text: string }[];
}

/** The files that a base begins with. No base is needed for it. */
export const newBaseRequest = new ProtocolRequestType<NewBaseParams, NewBaseAnswer, never, void, void>(
  'swaplore/newBase',
);

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
