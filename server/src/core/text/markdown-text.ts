/**
 * Text out of files, made safe to stand in Markdown of any flavour: it is shown as it is and does nothing.
 * Source: CommonMark 0.31.2, "Backslash escapes" and "Code spans"; GitHub Flavored Markdown 0.29, "Tables" and "Autolinks (extension)".
 * Laws (test/property/markdown-text.property.test.ts):
 * - running text shows the words it was given and holds no other mark-up than code
 * - a code span shows the text it was given and nothing else
 * - what looks like an address stands in code, where nothing makes it a link
 * - both stay on one line
 * - text in an element shows the words it was given, whether a renderer knows the element or not
 */
import { visible } from './visible.ts';

/**
 * Text as running text, runs of blanks and line ends as one space. Words that look like an address stand as code: some renderers
 * look for addresses when escapes are already gone. Empty for a text of blanks.
 * What it gives must not be wrapped: a later word at the beginning of a line could begin a list. `within`: something stands before it on
 * its line.
 */
export function markdownText(text: string, place: 'first' | 'within' = 'first'): string {
  return text
    .split(/\s+/)
    .filter((word) => word !== '')
    .map((word, position) => {
      if (isAddressLike(word)) return markdownCode(word);
      const mayBegin = position === 0 && place === 'first';
      return visible(word).replace(mayBegin ? anyMark : inlineMark, '\\$&');
    })
    .join(' ');
}

/**
 * Text as a code span, control characters as visible escapes; empty for an empty text. A `|` stands between two spans, since in a
 * table it would end the cell. Next to another code span there has to be something in between.
 */
export function markdownCode(text: string): string {
  return visible(text)
    .split('|')
    .map((part) => (part === '' ? '' : codeSpan(part)))
    .join('\\|');
}

/**
 * Text inside an element of HTML that stands in Markdown, runs of blanks as one space; words that look like an address as code. A renderer
 * that knows no HTML reads it as Markdown, so every mark is a character reference, which begins nothing in either.
 * Source: CommonMark 0.31.2, "Entity and numeric character references".
 */
export function elementText(text: string): string {
  return text
    .split(/\s+/)
    .filter((word) => word !== '')
    .map((word) => {
      const shown = visible(word).replace(/[!-/:-@[-`{-~]/g, (mark) => `&#${mark.charCodeAt(0)};`);
      return isAddressLike(word) ? `<code>${shown}</code>` : shown;
    })
    .join(' ');
}

/** A web or mail address, a mention, the number of an issue, a domain or a file name. */
const addressLike = /:\/\/|www\.|@|#\d|[\p{L}\p{N}]\.\p{L}{2}/iu;

/** Of what is shown: an escape ends in a digit or letter, which may make a domain of what stands behind it. */
function isAddressLike(word: string): boolean {
  return addressLike.test(visible(word));
}

/** All that begins or ends mark-up within a line; `$` does in the flavours that know formulas. */
const inlineMark = /[!$&*<>[\\\]_`|~]/g;

/** Besides these, all that can make a line something else than a paragraph: its first word decides that. */
const anyMark = /[!#$&()*+\-.:<=>[\\\]^_`{|}~]/g;

function codeSpan(text: string): string {
  const runs = text.match(/`+/g) ?? [];
  const fence = '`'.repeat(Math.max(0, ...runs.map(({ length }) => length)) + 1);
  // One blank at both ends is taken away where something else stands between them.
  const isPadded = /^`|`$/.test(text) || (/^ /.test(text) && / $/.test(text) && /[^ ]/.test(text));
  return isPadded ? `${fence} ${text} ${fence}` : `${fence}${text}${fence}`;
}
