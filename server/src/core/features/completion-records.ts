import { type KeyRow, keyNodes } from '../schema/key-rows.ts';
import { type Kind, kinds } from '../terms/kinds.ts';
import { type CompletionItem, tabStop, type Wording } from './completion-item.ts';
import { indentStep } from './completion-keys.ts';

/** A whole record of every kind: its required keys in the schema's order, with what is known of their values. */
export function recordItems(wording: Wording, idOf: (kind: Kind) => string | undefined): readonly CompletionItem[] {
  return kinds.map((kind) => {
    const rows = keyNodes[kind] ?? [];
    const [{ description } = { description: undefined }] = rows.filter(({ name }) => name === 'kind');
    const lines = new RecordLines(wording, idOf(kind)).write(rows, '');
    return {
      label: kind,
      what: 'record',
      detail: `A new ${kind} with what is required`,
      documentation: description,
      newText: lines.join(wording.lineBreak),
      isSnippet: wording.hasSnippets,
    };
  });
}

/** Writes required keys line by line, with tab stops counted through the whole record. */
class RecordLines {
  private stops = 0;

  constructor(
    private readonly wording: Wording,
    private readonly id: string | undefined,
  ) {}

  write(rows: readonly KeyRow[], indent: string): readonly string[] {
    return rows.filter(({ required }) => required).flatMap((row) => this.row(row, indent));
  }

  private row(row: KeyRow, indent: string): readonly string[] {
    const inner = row.node === undefined || row.type !== 'map' ? undefined : keyNodes[row.node];
    if (!inner) return [`${indent}${row.name}: ${this.scalar(row, indent)}`];
    const isList = row.list === 'yes';
    const inset = `${indent}${' '.repeat(indentStep)}`;
    const within = this.write(inner, isList ? `${inset}${' '.repeat(indentStep)}` : inset);
    const lines = within.length > 0 ? within : [`${inset}${this.stop('')}`];
    const [first = '', ...others] = lines;
    return [`${indent}${row.name}:`, isList ? `${inset}- ${first.trimStart()}` : first, ...others];
  }

  private scalar({ name, values = [] }: KeyRow, indent: string): string {
    const [only, ...others] = values;
    if (only && others.length === 0) return only.value;
    if (name === 'id' && indent === '') return this.stop(this.id ?? '');
    return this.stop(
      '',
      values.map(({ value }) => value),
    );
  }

  /** A tab stop, with a text to keep or a choice; without snippets the text alone. */
  private stop(text: string, choice: readonly string[] = []): string {
    if (!this.wording.hasSnippets) return text;
    return tabStop(++this.stops, text, choice);
  }
}
