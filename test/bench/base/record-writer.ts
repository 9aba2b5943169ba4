/** A date, week or month: written without quotes in a base, and with quotes for readers that would make something else of it. */
export interface Moment {
  readonly moment: string;
}

type Scalar = string | number | boolean | Moment;

/** A value that fits on one line. */
export type Value = Scalar | readonly Value[] | { readonly [key: string]: Value | undefined };

/** How a text of several lines is written. */
export type TextStyle = 'folded' | 'literal' | 'plain' | 'quoted';

/** Stands where a moment's quotes go; no text holds it. */
const quoteMark = '\u0001';

/** Widest line of text. */
const width = 78;

/** Writes one record as YAML, key by key, the way a person lays it out. Values that are undefined leave no line. */
export class RecordWriter {
  readonly lines: string[] = [];

  /** `depth` is how far the record's keys will be indented in the end; it decides where text is wrapped. */
  constructor(private readonly depth = 0) {}

  comment(text: string): void {
    for (const line of wrap(text, width - 2 - this.depth)) this.lines.push(`# ${line}`);
  }

  /** A key with a value on its own line. */
  key(name: string, value: Value | undefined, comment?: string): void {
    if (value === undefined) return;
    this.lines.push(`${name}: ${inline(value, false)}${comment === undefined ? '' : ` # ${comment}`}`);
  }

  /** A key with a map below it; nothing where the map stays empty. */
  map(name: string, fill: (inner: RecordWriter) => void): void {
    const inner = new RecordWriter(this.depth + 2);
    fill(inner);
    if (inner.lines.length > 0) this.lines.push(`${name}:`, ...inner.lines.map(indented));
  }

  /** A key with a list of maps below it, each written by one function. */
  list(name: string, items: readonly ((inner: RecordWriter) => void)[]): void {
    if (items.length === 0) return;
    this.lines.push(`${name}:`);
    for (const fill of items) {
      const inner = new RecordWriter(this.depth + 4);
      fill(inner);
      this.lines.push(
        ...inner.lines.map((line, position) => (position === 0 ? `  - ${line}` : indented(indented(line)))),
      );
    }
  }

  /** A key with a list of one-line values below it. */
  rows(name: string, rows: readonly Value[]): void {
    if (rows.length > 0) this.lines.push(`${name}:`, ...rows.map((row) => `  - ${inline(row, false)}`));
  }

  /** A key with a text of several lines. Only block styles keep paragraphs apart. */
  text(name: string, paragraphs: readonly string[], style: TextStyle): void {
    const room = width - 2 - this.depth;
    switch (style) {
      case 'folded':
      case 'literal': {
        const lines = paragraphs.flatMap((text, position) => [...(position > 0 ? [''] : []), ...wrap(text, room)]);
        this.lines.push(`${name}: ${style === 'folded' ? '>-' : '|'}`, ...lines.map(indented));
        return;
      }
      case 'plain':
      case 'quoted': {
        const quote = style === 'quoted' ? '"' : '';
        const [first = '', ...rest] = wrap(paragraphs.join(' '), room - name.length);
        const all = [`${name}: ${quote}${first}`, ...rest.map(indented)];
        this.lines.push(...all.slice(0, -1), `${all.at(-1)}${quote}`);
        return;
      }
    }
  }
}

/** The text of a record as a base holds it. */
export function withPlainMoments(text: string): string {
  return text.replaceAll(quoteMark, '');
}

/** The text of a record for a reader that takes plain dates for something else than text. */
export function withQuotedMoments(text: string): string {
  return text.replaceAll(quoteMark, '"');
}

/** A text in lines of at most so many characters. */
export function wrap(text: string, room: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && line.length + 1 + word.length > room) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line];
}

function indented(line: string): string {
  return line === '' ? '' : `  ${line}`;
}

function inline(value: Value, isInFlow: boolean): string {
  if (typeof value === 'string') return isSafe(value, isInFlow) ? value : JSON.stringify(value);
  if (typeof value !== 'object') return String(value);
  if (isList(value)) return `[${value.map((item) => inline(item, true)).join(', ')}]`;
  if (isMoment(value)) return `${quoteMark}${value.moment}${quoteMark}`;
  const entries = Object.entries(value).flatMap(([key, inner]) =>
    inner === undefined ? [] : [`${key}: ${inline(inner, true)}`],
  );
  return `{ ${entries.join(', ')} }`;
}

function isList(value: Value): value is readonly Value[] {
  return Array.isArray(value);
}

function isMoment(value: object): value is Moment {
  return 'moment' in value;
}

/** Whether a text means itself without quotes: words that begin with a letter, and ids that begin with a date. */
function isSafe(text: string, isInFlow: boolean): boolean {
  if (/^(?:true|false|null|yes|no|on|off)$/i.test(text)) return false;
  if (isInFlow && /[,[\]{}]/.test(text)) return false;
  return /^(?:[A-Za-z]|\d{4}-\d\d-\d\d-[a-z])(?:[\w .,;()/+=~*-]|:(?=\S))*$/.test(text) && !/ $/.test(text);
}
