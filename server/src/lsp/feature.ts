import {
  type CancellationToken,
  type ClientCapabilities,
  type Connection,
  ErrorCodes,
  type Location,
  LSPErrorCodes,
  type ProtocolRequestType,
  ResponseError,
  type ServerCapabilities,
} from 'vscode-languageserver';
import type { Place } from '../core/checks/finding.ts';
import type { CheckedText } from '../core/features/checked-text.ts';
import type { OpenFile } from '../core/features/open-file.ts';
import type { Day } from '../core/terms/calendar.ts';
import type { BaseReader } from '../host/base-store.ts';
import type { RevisionReader } from '../host/revision-reader.ts';
import { Cancelled } from '../host/run-in-slices.ts';
import type { BaseSession } from './base-session.ts';
import type { Settings } from './settings.ts';
import type { ShownFile } from './shown-findings.ts';
import type { TextPositions } from './text-positions.ts';

/** A document that is open and belongs to a base. */
export interface Opened {
  readonly file: OpenFile;
  readonly base: BaseSession;
  /** As the client spells it. */
  readonly uri: string;
  readonly version: number;
  readonly positions: TextPositions;
}

/** What answers are made from. */
export interface Surroundings {
  readonly client: ClientCapabilities;
  readonly settings: Settings;
  /** The day that counts as today. */
  readonly today: () => Day;
  /** The bases in and around all folders of the client and of the documents open so far, in no particular order. */
  readonly allBases: () => Promise<readonly BaseSession[]>;
  /** The document with this address as it is now; undefined where it is not open or belongs to no base. */
  readonly look: (uri: string) => Opened | undefined;
  /** The same when all files of its base are read and counted, for what rests on absence or on counts. */
  readonly lookIndexed: (uri: string) => Promise<Opened | undefined>;
  /** Places of a base as an editor jumps to them, one for one; undefined for those whose file has changed meanwhile or is gone. */
  readonly locate: (base: BaseSession, places: readonly Place[]) => Promise<readonly (Location | undefined)[]>;
  /** Resolves when all files of a base are read, and what can be said beside a text is worked out. */
  readonly whenIndexed: (base: BaseSession) => Promise<void>;
  /** Resolves when the findings shown of a base are those of its newest state, or the token is cancelled. */
  readonly whenChecked: (base: BaseSession, token: CancellationToken) => Promise<void>;
  /** The runs of all checks over the newest state of a base; undefined where it is not checked yet. */
  readonly runsOf: (base: BaseSession) => CheckedText['runs'] | undefined;
  /** Does long work with pauses for messages. Throws `Cancelled` once `isStale` says that nobody waits for it any more. */
  readonly inSlices: <Result>(work: Generator<undefined, Result>, isStale: () => boolean) => Promise<Result>;
  /** The history that a base lies in; undefined where nobody here can read it. */
  readonly revisionsOf: (base: BaseSession) => RevisionReader | undefined;
  /** What reads the base in a folder, as it is saved; undefined where nobody here can read it. */
  readonly readerOf: (folder: string) => BaseReader | undefined;
  /** Reads all files of a base again. */
  readonly reload: (base: BaseSession) => Promise<void>;
  /** Shows a page the server writes, as it is now; gives whether the client does that. */
  readonly showPage: (uri: string) => Promise<boolean>;
  /** Diagnostics of a base as they are shown, by path; files without any are absent. */
  readonly shownIn: (base: BaseSession) => ReadonlyMap<string, ShownFile>;
}

/** The same for one request. */
export interface Context extends Surroundings {
  readonly token: CancellationToken;
}

/** One request of the protocol: what the server says it can do, and how it is answered. */
interface FeatureOf<Params, Result, Partial, Data, Registration> {
  readonly request: ProtocolRequestType<Params, Result, Partial, Data, Registration>;
  readonly capabilities: (client: ClientCapabilities) => ServerCapabilities;
  /** Throws `Cancelled` where the answer is not wanted any more. Whatever else it throws is answered as an error of this request alone. */
  readonly answer: (params: Params, context: Context) => Result | Promise<Result>;
}

/** A feature as the server takes it. */
export interface Feature {
  readonly capabilities: (client: ClientCapabilities) => ServerCapabilities;
  /** Begins to answer. `prepared` resolves when the documents opened so far are where they belong; it throws what to answer where nothing is answered any more. */
  readonly attach: (connection: Connection, surroundings: Surroundings, prepared: () => Promise<void>) => void;
}

/** Declares a feature. */
export function defineFeature<Params, Result, Partial, Data, Registration>({
  request,
  capabilities,
  answer,
}: FeatureOf<Params, Result, Partial, Data, Registration>): Feature {
  const attach: Feature['attach'] = (connection, surroundings, prepared) => {
    connection.onRequest(request.method, async (params: Params, token: CancellationToken) => {
      try {
        await prepared();
        const result = token.isCancellationRequested ? cancelled : await answer(params, { ...surroundings, token });
        return token.isCancellationRequested ? cancelled : result;
      } catch (error) {
        if (error instanceof Cancelled) return cancelled;
        if (error instanceof ResponseError) return error;
        connection.console.error(`${request.method} failed: ${describeError(error)}`);
        return new ResponseError<void>(
          ErrorCodes.InternalError,
          `${request.method} failed; the log of the server says where.`,
        );
      }
    });
  };
  return { capabilities, attach };
}

const cancelled = new ResponseError<void>(LSPErrorCodes.RequestCancelled, 'The request was cancelled.');

/** What a log says of an error of our own. */
export function describeError(error: unknown): string {
  return error instanceof Error ? (error.stack ?? error.message) : String(error);
}
