import type { Span } from '../syntax/tape.ts';

/** A stretch of text, in half-open UTF-16 offsets, and what is to stand there instead. */
export interface TextEdit extends Span {
  readonly text: string;
}

/** Edits of one text, sorted, apart from one another, and good for the text with this content id alone. */
export interface GuardedEdits {
  readonly contentId: string;
  readonly edits: readonly TextEdit[];
}

/** Edits of one file of a base. */
export interface FileEdits extends GuardedEdits {
  /** Path relative to the base, with `/`. */
  readonly file: string;
}

/** Why nothing is done, in a sentence. */
export interface Refusal {
  readonly refused: string;
}

/** Whether something was refused. */
export function isRefusal<Done extends object | string>(done: Done | Refusal): done is Refusal {
  return typeof done === 'object' && 'refused' in done;
}

/** A text and the id of its content. */
export interface IdentifiedText {
  readonly text: string;
  readonly contentId: string;
}

/** The text after the edits; refused where they were made for another content. */
export function applyEdits({ text, contentId }: IdentifiedText, guarded: GuardedEdits): string | Refusal {
  if (contentId !== guarded.contentId) return { refused: 'The file has changed since this edit was made.' };
  return replaceIn(text, guarded.edits);
}

/** The text after edits made for it. */
export function replaceIn(text: string, edits: readonly TextEdit[]): string {
  let at = 0;
  let edited = '';
  for (const edit of edits) {
    edited += text.slice(at, edit.start) + edit.text;
    at = edit.end;
  }
  return edited + text.slice(at);
}
