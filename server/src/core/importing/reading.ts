import type { Answer } from '../recording/answers.ts';

/** What a cell comes to, or why it comes to nothing: a sentence, and what to do. */
export type Reading<Value = Answer> = { readonly value: Value } | Unreadable;

/** Why a cell cannot be read. */
export interface Unreadable {
  readonly reason: string;
  readonly help?: string;
}
