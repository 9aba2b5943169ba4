import { resolvePlain } from '../syntax/core-schema.ts';
import type { Tape, TapeEntry } from '../syntax/tape.ts';

/** How a scalar is typed. */
export type ScalarStyle = 'plain' | 'single' | 'double' | 'literal' | 'folded';

/** How the scalar of an entry is typed; plain for anything else. */
export function styleOf({ text }: Tape, { kind, start }: TapeEntry): ScalarStyle {
  const first = text.charAt(start);
  if (kind === 'quoted') return first === "'" ? 'single' : 'double';
  if (kind === 'block') return first === '|' ? 'literal' : 'folded';
  return 'plain';
}

/** Texts that may stand in a file as they are: no control, direction or private characters, which nobody sees, no line ends, no tabs. */
const visible = /^[^\p{Cc}\p{Cf}\p{Cs}\p{Co}\u2028\u2029\ufffe\uffff]*$/u;
/** What begins something else than a plain text. A dash may begin one where no space follows. */
const startsOtherwise = /^(?:[?:,[\]{}#&*!|>'"%@` ]|-(?:[^0-9A-Za-z.]|$)|---|\.\.\.|<<$|=$)/;
const endsOtherwise = /:(?: |$)| #|^\p{Z}|\p{Z}$/u;
const flowIndicator = /[,[\]{}]/;

/** A scalar on one line, plain where it then reads as the same, else in the quotes asked for where these can hold it. */
export function lineScalar(value: string | number | boolean, style: ScalarStyle, isFlow: boolean): string {
  if (typeof value !== 'string') return Object.is(value, -0) ? '-0' : String(value);
  const isPlain =
    visible.test(value) &&
    resolvePlain(value) === value &&
    !startsOtherwise.test(value) &&
    !endsOtherwise.test(value) &&
    !(isFlow && flowIndicator.test(value));
  if (isPlain && style !== 'single' && style !== 'double') return value;
  const isSingleFit = visible.test(value) && (style === 'single' || (/["\\]/.test(value) && !value.includes("'")));
  return isSingleFit && (style !== 'double' || !isPlain) ? `'${value.replaceAll("'", "''")}'` : doubleQuoted(value);
}

const escapes: Readonly<Record<string, string>> = { '"': '\\"', '\\': '\\\\', '\n': '\\n', '\t': '\\t' };

function doubleQuoted(text: string): string {
  let quoted = '';
  for (const character of text) {
    if (character in escapes) quoted += escapes[character];
    else if (visible.test(character)) quoted += character;
    else quoted += codeEscape(character.codePointAt(0) ?? 0);
  }
  return `"${quoted}"`;
}

function codeEscape(code: number): string {
  const digits = code.toString(16);
  return code > 0xffff ? `\\U${digits.padStart(8, '0')}` : `\\u${digits.padStart(4, '0')}`;
}

/** A text over several lines below its key or dash: the header behind that, and the lines, each without indent. */
export interface BlockScalar {
  readonly header: string;
  readonly lines: readonly string[];
}

/** The text as it was typed, line for line; undefined where that would not read as the same. */
export function literalScalar(text: string): BlockScalar | undefined {
  const body = bodyOf(text);
  return body && { header: body.isClosed ? '|' : '|-', lines: body.lines };
}

/** The text wrapped at a number of columns, line breaks as blank lines; undefined where that would not read as the same. */
export function foldedScalar(text: string, width: number): BlockScalar | undefined {
  const body = bodyOf(text);
  if (!body || body.lines.some((line) => /^\s|\s$/.test(line)) || body.lines[0] === '') return undefined;
  const lines: string[] = [];
  for (const [position, line] of body.lines.entries()) {
    // One break in the text is one blank line here, two are two.
    if (position > 0 && line !== '') lines.push('');
    lines.push(...wrap(line, width));
  }
  return { header: body.isClosed ? '>' : '>-', lines };
}

/** The lines of a text that a block can hold: none where it begins with a space, ends with blank lines, or holds odd characters. */
function bodyOf(text: string): { readonly lines: readonly string[]; readonly isClosed: boolean } | undefined {
  const isClosed = text.endsWith('\n');
  const lines = (isClosed ? text.slice(0, -1) : text).split('\n');
  const isFit = lines.every((line) => visible.test(line.replaceAll('\t', ''))) && /^\n*\S/.test(text);
  return isFit && lines.at(-1)?.trim() !== '' ? { lines, isClosed } : undefined;
}

function wrap(line: string, width: number): readonly string[] {
  const lines: string[] = [];
  let current = '';
  // Only a lone space between two words comes back where lines are joined.
  for (const word of line.split(/(?<=\S) (?=\S)/)) {
    if (current !== '' && current.length + 1 + word.length > width) {
      lines.push(current);
      current = word;
    } else current = current === '' ? word : `${current} ${word}`;
  }
  return [...lines, current];
}
