/** A stretch of Markdown as it is shown. */
export interface Inline {
  readonly isCode: boolean;
  readonly text: string;
}

/** Lines that are no paragraph. Source: CommonMark 0.31.2, "Leaf blocks" and "Container blocks"; GitHub Flavored Markdown 0.29, "Tables". */
const otherBlock =
  /^(?: {4}|\t| {0,3}(?:#{1,6}(?:\s|$)|>|[-+*](?:\s|$)|\d{1,9}[.)](?:\s|$)|~~~|```[^`]*$|[-=_*:|\s]+$|\[))/;

/**
 * Reads one line of Markdown that may hold text, escapes and code spans. Throws at a line that is no paragraph, and at an unescaped
 * character with which any other mark-up could begin. Source: CommonMark 0.31.2, "Backslash escapes" and "Code spans".
 */
export function readInlines(markdown: string): readonly Inline[] {
  const inlines: Inline[] = [];
  if (markdown.trim() !== '' && otherBlock.test(markdown))
    throw new Error(`No paragraph: ${JSON.stringify(markdown)}.`);
  for (let rest = markdown; rest !== ''; ) {
    const inline = readOne(rest);
    rest = rest.slice(inline.length);
    const last = inlines.at(-1);
    if (last && !last.isCode && !inline.isCode)
      inlines[inlines.length - 1] = { isCode: false, text: last.text + inline.text };
    else inlines.push({ isCode: inline.isCode, text: inline.text });
  }
  return inlines;
}

function readOne(rest: string): Inline & { readonly length: number } {
  const [whole, escaped] = /^\\([!-/:-@[-`{-~])/.exec(rest) ?? [];
  if (whole !== undefined && escaped !== undefined) return { isCode: false, text: escaped, length: whole.length };
  const [run] = /^`+/.exec(rest) ?? [];
  if (run !== undefined) return readCode(rest, run);
  if (/^[$&*<>[\\\]_`|~]/.test(rest)) throw new Error(`Mark-up may begin at ${JSON.stringify(rest)}.`);
  return { isCode: false, text: rest.charAt(0), length: 1 };
}

function readCode(rest: string, run: string): Inline & { readonly length: number } {
  for (const next of rest.slice(run.length).matchAll(/`+/g)) {
    if (next[0] !== run) continue;
    const end = run.length + next.index;
    const inside = rest.slice(run.length, end);
    const isPadded = inside.startsWith(' ') && inside.endsWith(' ') && /[^ ]/.test(inside);
    return { isCode: true, text: isPadded ? inside.slice(1, -1) : inside, length: end + run.length };
  }
  throw new Error(`No end of code in ${JSON.stringify(rest)}.`);
}
