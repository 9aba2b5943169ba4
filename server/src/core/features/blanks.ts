import type { TextEdit } from '../edits/text-edit.ts';
import { columnOf, lineStart } from '../edits/text-lines.ts';
import type { KeyRow } from '../schema/key-rows.ts';
import { snippetText, tabStop } from './completion-item.ts';

/** Something that nobody has written down and somebody has to fill in. */
export interface Blank {
  /** What stands there at first, to be kept or replaced; may be empty. */
  readonly suggestion: string;
  /** The values to choose from; empty where any may be typed. The first stands there at first. */
  readonly choices: readonly string[];
}

/** How every text begins that stands for a blank. A text that holds it already cannot get blanks. */
export const blankMark = 'to-be-filled-in-';

const blankPattern = new RegExp(`${blankMark}(\\d+)-:?`);

/** The blanks of one action. Edits are planned with a text for each, so that they are placed and read back like any value. */
export class Blanks {
  private readonly blanks: Blank[] = [];

  /** The blanks so far. */
  get list(): readonly Blank[] {
    return this.blanks;
  }

  /** Adds a blank and gives the text that stands for it. */
  add({ suggestion = '', choices = [] }: Partial<Blank>): string {
    this.blanks.push({ suggestion, choices });
    return `${blankMark}${this.blanks.length - 1}-`;
  }

  /** The same for words of any kind: they are filled in between quotes, where a comma or a colon does no harm. */
  addWords(): string {
    // No text that ends with a colon can stand without quotes.
    return `${this.add({})}:`;
  }

  /** The same for the value of a key. */
  addValue({ type, values = [], refersTo, format, name }: KeyRow): string {
    const isWords = type === 'text' && values.length === 0 && refersTo === undefined && format === undefined;
    return isWords && name !== 'id' ? this.addWords() : this.add({ choices: values.map(({ value }) => value) });
  }
}

/** Edits as snippets in which every blank is a tab stop, counted through all of them. */
export function toSnippets(text: string, edits: readonly TextEdit[], blanks: readonly Blank[]): readonly TextEdit[] {
  let stops = 0;
  return anchored(text, edits).map(({ start, end, text: put }) => {
    // Every second part is the number of a blank.
    const parts = put.split(blankPattern).map((part, position) => {
      if (position % 2 === 0) return snippetText(part);
      const { suggestion, choices } = blanks[Number(part)] ?? { suggestion: '', choices: [] };
      return tabStop(++stops, suggestion, choices);
    });
    return { start, end, text: parts.join('') };
  });
}

/**
 * The same edits, each of several lines from the beginning of its first line on: editors indent the further lines of a snippet like
 * the text before it on that line, which is right for a snippet somebody types and wrong for lines that carry their indent.
 */
function anchored(text: string, edits: readonly TextEdit[]): readonly TextEdit[] {
  const found: TextEdit[] = [];
  for (const edit of edits) {
    const isIndented = edit.text.includes('\n') && /^[ \t]/.test(text.slice(lineStart(text, edit.start)));
    const start = isIndented ? edit.start - columnOf(text, edit.start) : edit.start;
    const before = found.at(-1);
    if (before && before.end > start) {
      found.pop();
      const joined = before.text + text.slice(before.end, edit.start) + edit.text;
      found.push({ start: before.start, end: edit.end, text: joined });
    } else found.push({ start, end: edit.end, text: text.slice(start, edit.start) + edit.text });
  }
  return found;
}
