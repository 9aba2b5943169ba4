/**
 * What server and client say to each other beyond the language server protocol. A client lends the server its files where it says so
 * in `initializationOptions`; the server asks for nothing a client did not offer.
 */
import type { Connection, InitializeParams, Location, Position } from 'vscode-languageserver';
import { NotificationType, ProtocolRequestType, RequestType } from 'vscode-languageserver-protocol';
import type { TreeNode } from '../core/features/base-tree.ts';
import type { Answer, Answers } from '../core/recording/answers.ts';
import type { Question } from '../core/recording/question.ts';
import type { RecordedKind } from '../core/recording/recording.ts';
import type { ReportName } from '../core/reports/report-name.ts';
import type { ClientFiles, SentFile, SentSize } from '../host/client-store.ts';

/** What recordings say besides the questions that are sent. */
export { goOnQuestion, recordingWords } from '../core/recording/words.ts';
/** Most bytes of an image that is compared, and what is said of more. */
export { isOneRead, mostImageBytes, tooLargeForRom } from '../core/rom-images/image-size.ts';
/** What is sent of a file, and of a recording. */
export type { Answer, Answers, Question, RecordedKind, SentFile, SentSize };

/** Options that `initialize` may carry, besides settings. */
export interface ClientOffers {
  /** Whether the client answers `swaplore/listFiles`, `swaplore/readFiles` and `swaplore/fileSizes`, for folders with any address. */
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

/** Sizes of files of a folder by path, in the order asked for: of pictures it is enough to know that they are there. */
export const fileSizesRequest = new RequestType<
  { readonly folder: string; readonly paths: readonly string[] },
  { readonly files: readonly SentSize[] },
  void
>('swaplore/fileSizes');

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
  /** What the panel's policy knows style and script by: 16 letters and figures or more, made anew for every panel. */
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

/** What somebody may choose from before a page is made: outcomes whose captures can be traced, drives, or families. */
export interface ChoicesParams {
  readonly of: 'traces' | 'drives' | 'families';
  /** Address of a base's folder or of anything in it. Not needed where there is one base only. */
  readonly uri?: string;
  /** Where somebody is in the text of that address, if it is one. */
  readonly position?: Position | undefined;
}

/** A record to choose. */
export interface Choice {
  readonly id: string;
  /** What it is, in a few words. */
  readonly detail: string;
  /** Whether the record at the position is about it and about no other one. */
  readonly isHere?: boolean;
}

/** Records to choose from: outcomes the latest first, others by id. */
export const choicesRequest = new ProtocolRequestType<ChoicesParams, readonly Choice[], never, void, void>(
  'swaplore/choices',
);

/** Names the outcome whose captures are traced. */
export interface TraceParams extends Pick<ReportParams, 'uri' | 'nonce'> {
  readonly outcome: string;
}

/** What followed the platters and what the board, by the captures of an outcome, as a page. */
export const traceRequest = new ProtocolRequestType<TraceParams, ReportAnswer, never, void, void>('swaplore/trace');

/** An image of a ROM chip, and what to call its file. */
export interface SentImage {
  readonly name: string;
  readonly base64: string;
}

/** Images that are compared as `swaplore rom` compares them. */
export interface CompareImagesParams extends Pick<ReportParams, 'uri' | 'nonce'> {
  readonly read1: SentImage;
  readonly read2?: SentImage | undefined;
  readonly donorNow?: SentImage | undefined;
  /** Id of the drive whose chip was read. */
  readonly drive?: string | undefined;
}

/** Images of ROM chips compared, as a page. */
export const compareImagesRequest = new ProtocolRequestType<CompareImagesParams, ReportAnswer, never, void, void>(
  'swaplore/compareImages',
);

/** The branches that a base may be compared with, the latest first; where there are none, why. */
export interface BranchesAnswer {
  readonly names: readonly string[];
  readonly reason?: string;
}

/** What a base may be compared with out of the history it lies in. */
export const branchesRequest = new ProtocolRequestType<Pick<ReportParams, 'uri'>, BranchesAnswer, never, void, void>(
  'swaplore/branches',
);

/** What a base is reviewed against: a revision by its name, or a folder by its address that holds the base as it was. */
export interface ReviewParams extends Pick<ReportParams, 'uri' | 'nonce'> {
  readonly against: { readonly revision: string } | { readonly folder: string };
}

/** What the changes of a base come to, with all that open documents change in it, as a page. */
export const reviewRequest = new ProtocolRequestType<ReviewParams, ReportAnswer, never, void, void>('swaplore/review');

/** A node of the tree of a base as it is sent. */
export interface SentTreeNode extends Omit<TreeNode, 'children' | 'record'> {
  readonly isCollapsible: boolean;
  /** Address of the file that holds its record; absent for groups. */
  readonly uri?: string;
}

/** Names a node of the tree of a base. */
export interface TreeParams {
  /** Address of the base's folder or of anything in it. Not needed where there is one base only. */
  readonly uri?: string;
  readonly key: string;
}

/** The nodes right below one, or the topmost where no key is given. Empty where the node is there no more. */
export const treeChildrenRequest = new ProtocolRequestType<
  Partial<TreeParams>,
  readonly SentTreeNode[],
  never,
  void,
  void
>('swaplore/treeChildren');

/** What is asked of one node only: looking up where all stand would read every file of a base. */
export interface TreeDetail {
  /** Its record in brief, in Markdown that holds no command and no HTML. */
  readonly tooltip: string;
  /** Where its record stands; absent where the file holds something else by now. */
  readonly location?: Location;
}

/** More of a node that stands for a record; null for a group, and where the node is there no more. */
export const treeDetailRequest = new ProtocolRequestType<TreeParams, TreeDetail | null, never, void, void>(
  'swaplore/treeDetail',
);

/** One step of a recording. The client keeps the answers; the server keeps nothing. */
export interface RecordParams {
  readonly kind: RecordedKind;
  /** Address of a base's folder or of anything in it. Not needed where there is one base only. */
  readonly uri?: string;
  /** What was answered so far. */
  readonly answers: Answers;
  /** The answer to what is asked after these: that of an item, or what was typed. Absent: nothing yet. */
  readonly given?: { readonly answer: Answer } | { readonly typed: string } | undefined;
  /** Whether the last answer is to be taken away. */
  readonly isBack?: boolean;
  /** Ids whose files turned out to be there. */
  readonly taken?: readonly string[];
}

/** Where a recording stands after a step. */
export interface RecordAnswer {
  /** The answers that count. */
  readonly answers: Answers;
  /** What is wrong with what was given; it was not taken then. */
  readonly fault?: string;
  /** What is asked next; absent at the end. */
  readonly question?: Question;
  /** At the end, what is to be written into a file of its own. */
  readonly record?: RecordedFile;
}

/** A file that the client is to make where there is none. */
export interface RecordedFile {
  readonly uri: string;
  readonly id: string;
  readonly text: string;
  /** Where to look first, in UTF-16 code units: at what is found in it, else at its end. */
  readonly position: Position;
}

/** The next step of a recording. */
export const recordRequest = new ProtocolRequestType<RecordParams, RecordAnswer, never, void, void>('swaplore/record');

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
    sizes: async (folder, paths) => (await connection.sendRequest(fileSizesRequest, { folder, paths })).files,
  };
}
