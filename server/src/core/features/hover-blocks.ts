import { capitalise } from '../text/capitalise.ts';

/** Running text of our own, in which backticks mark keys, ids and values; or text out of a file, which stands as code or as prose. */
export type Piece = string | { readonly typed: string } | { readonly quoted: string };

/** A text made of pieces. */
export type Phrase = readonly Piece[];

/** A part of a hover. Features give these and never format; one renderer turns them into what a client takes. */
export type HoverBlock =
  /** What is hovered over: its name in words, how it is typed, and what else has to be said at once. */
  | {
      readonly kind: 'title';
      readonly name: string;
      readonly typed: string | undefined;
      readonly note: string | undefined;
    }
  | { readonly kind: 'paragraph'; readonly text: Phrase }
  | { readonly kind: 'facts'; readonly facts: readonly HoverFact[] }
  /** What the records of the base come to. */
  | { readonly kind: 'base'; readonly lines: readonly Phrase[] }
  /** A file of the base, by its path in the base; it need not exist. */
  | { readonly kind: 'photo'; readonly path: string; readonly shows: string | undefined };

/** A labelled line. */
export interface HoverFact {
  readonly label: string;
  readonly text: Phrase;
}

/** What is said of a stretch of text, in half-open UTF-16 offsets. At least one block, the first a title. */
export interface Hover {
  readonly start: number;
  readonly end: number;
  readonly blocks: readonly HoverBlock[];
}

/** A phrase as a template: the words are ours, what is put in is text out of a file that stands as code, a number, or a phrase. */
export function phrase(words: TemplateStringsArray, ...inserted: readonly (string | number | Phrase)[]): Phrase {
  return words.flatMap((word, position) => {
    const value = inserted[position];
    if (value === undefined) return [word];
    if (typeof value === 'string') return [word, { typed: value }];
    return typeof value === 'number' ? [`${word}${value}`] : [word, ...value];
  });
}

/** Phrases in a row: "a, b and c". */
export function joined(parts: readonly Phrase[]): Phrase {
  return parts.flatMap((part, position) => {
    if (position === 0) return part;
    return [position === parts.length - 1 ? ' and ' : ', ', ...part];
  });
}

/** Words as a sentence: a capital first, a full stop last. */
export function sentence(words: string): string {
  const capital = capitalise(words);
  return /[.!?]$/.test(capital) ? capital : `${capital}.`;
}
