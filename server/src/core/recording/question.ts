import type { Answer } from './answers.ts';

/** A value to choose, as it is written, with what it means or what tells it from others. */
export interface Choice {
  readonly value: string | boolean;
  readonly detail: string;
}

/** A choice as it is shown: the label stands for the answer. */
export interface Item {
  readonly label: string;
  readonly detail: string;
  readonly answer: string | boolean | null;
  /** Whether it is what is likely. */
  readonly isUsual: boolean;
}

/** How a question is answered. */
export type Input =
  /** One item, or any number of them; of one, the first item stands for not known. */
  | { readonly kind: 'choice' | 'choices'; readonly items: readonly Item[] }
  /** Typed; nothing typed means not known. */
  | { readonly kind: 'date' | 'text' | 'number'; readonly unit?: string };

/** A question as every adapter asks it. */
export interface Question {
  /** The key it fills, with dots. */
  readonly name: string;
  /** How far it is: this question's position among those asked so far, from 1. */
  readonly position: number;
  readonly asks: string;
  /** Where the answer is found, and what the base says of it. */
  readonly help: string;
  readonly input: Input;
  /** The answer that is likely; absent where none is. */
  readonly usual?: Answer;
  /** Whether the record is not complete without it. It may be left open all the same, and is reported then. */
  readonly isRequired: boolean;
  /** What to mind before going on, each a sentence or two. */
  readonly cautions: readonly string[];
}
