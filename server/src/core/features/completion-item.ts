import type { KeyRow } from '../schema/key-rows.ts';

/** Something that could stand at the cursor. All words are plain text. */
export interface CompletionItem {
  readonly label: string;
  readonly what: 'key' | 'value' | 'id' | 'record';
  /** A few words beside the label; undefined where there is nothing to say. */
  readonly detail: string | undefined;
  /** Sentences shown on demand; undefined where there are none. */
  readonly documentation: string | undefined;
  /** What replaces the typed text. Lines after the first carry their whole indent. */
  readonly newText: string;
  /** Whether `newText` holds tab stops in the syntax of editors' snippets. */
  readonly isSnippet: boolean;
}

/** What the client at hand can take, and how the text breaks its lines. */
export interface Wording {
  readonly hasSnippets: boolean;
  readonly lineBreak: '\n' | '\r\n';
}

/** An item of a choice, with what it means. */
export function valueItem(label: string, newText: string, meaning: string): CompletionItem {
  const detail = meaning === '' ? undefined : meaning;
  return { label, what: 'value', detail, documentation: undefined, newText, isSnippet: false };
}

/** What the schema says of a key, in a few words and in sentences. */
export function wordsOf(row: KeyRow): Pick<CompletionItem, 'detail' | 'documentation'> {
  const unit = row.unit === undefined ? '' : `, in ${row.unit}`;
  const need = row.required ? ' (required)' : '';
  return { detail: `${row.title}${unit}${need}`, documentation: `${row.description}\n\n${row.where}` };
}

/** A tab stop: with a choice, or with a text to keep or replace. */
export function tabStop(stop: number, text: string, choice: readonly string[]): string {
  if (choice.length > 0) return `\${${stop}|${choice.map(choiceText).join(',')}|}`;
  return text === '' ? `$${stop}` : `\${${stop}:${snippetText(text)}}`;
}

function choiceText(text: string): string {
  return text.replace(/[\\$},|]/g, '\\$&');
}

/** Text that stands for itself within a snippet. */
export function snippetText(text: string): string {
  return text.replace(/[\\$}]/g, '\\$&');
}
