import type { Attachment } from '../captures/attachment.ts';
import type { Finding } from '../checks/finding.ts';
import type { Intent } from '../edits/intent.ts';
import type { FileEdits } from '../edits/text-edit.ts';
import type { Standing } from '../index/snapshot.ts';
import type { Day } from '../terms/calendar.ts';
import type { Blank } from './blanks.ts';
import type { CheckedText } from './checked-text.ts';
import type { Reach } from './fix-all.ts';
import type { OpenFile } from './open-file.ts';

/** What an action is for: to mend what was found, to change what is in order, or to mend all of a file that needs no choice. */
export type ActionKind = 'quick-fix' | 'refactor' | 'fix-all';

/** Where actions are asked for, and what is known there. Offsets are half-open UTF-16 offsets. */
export interface ActionRequest {
  readonly file: OpenFile;
  readonly start: number;
  readonly end: number;
  /** What the checks have found in the file. */
  readonly findings: readonly Finding[];
  /** The runs of the checks that found it, which ran every check over the snapshot the file is in. */
  readonly runs: CheckedText['runs'];
  readonly today: Day;
  /** The kinds of action that are wanted; undefined where nobody asked for any in particular. */
  readonly only: ReadonlySet<ActionKind> | undefined;
  /** Whether edits may hold tab stops. What needs a fact nobody has is offered only then. */
  readonly hasSnippets: boolean;
  /** Whether files can be made. */
  readonly hasNewFiles: boolean;
  /** How far mending all of the file may reach. */
  readonly reach: Reach;
}

/** The same with what follows from it for all actions. */
export interface ActionContext extends ActionRequest {
  readonly contentId: string;
  /** What was found in the stretch, in the text as it is now. */
  readonly findingsHere: readonly Finding[];
  /** Position of the document in which the stretch begins; undefined outside all. */
  readonly document: number | undefined;
  /** The record of that document; undefined where it has none that stands. */
  readonly standing: Standing | undefined;
  /** The outermost key that the stretch begins at. */
  readonly topKey: string | undefined;
}

/** Changes of one file. */
interface FileChange {
  readonly file: string;
  /** The content they are for; undefined for a file that is yet to be made. */
  readonly contentId: string | undefined;
  readonly intents: readonly Intent[];
  /** Of a file that a record names: what is known of it afterwards. */
  readonly becomes?: Attachment;
}

/** An action before anything is planned. */
export interface ActionDraft {
  /** What it does, as an order. */
  readonly title: string;
  readonly kind: ActionKind;
  /** Whether it is what nearly everybody would do; never where something has to be filled in. Absent: no. */
  readonly isSure?: boolean;
  /** What it would mend; absent: nothing. */
  readonly findings?: readonly Finding[];
  /** What has to be filled in, as the intents name it; absent or empty where nothing has to be. */
  readonly blanks?: readonly Blank[];
  readonly changes: readonly FileChange[];
}

/** What an action does to one file. */
export interface ActionEdits extends FileEdits {
  /** Whether the file is to be made first; where one with this path is there after all, nothing may be done. */
  readonly isNew: boolean;
  /** Whether the new texts hold tab stops in the syntax of editors' snippets. */
  readonly isSnippet: boolean;
}

/** An action that can be carried out. */
export interface Action extends Required<Omit<ActionDraft, 'blanks' | 'changes'>> {
  readonly files: readonly ActionEdits[];
}
