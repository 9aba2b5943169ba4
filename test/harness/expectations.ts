/**
 * Expected findings as comment lines under the text they mark:
 *
 *     rom: chip_move
 *     #    ^^^^^^^^^ schema: `rom` cannot be `chip_move`; the nearest is `chip_moved`.
 *
 * Where the marked text starts at the first character, `#<` stands for its first two. The comments are taken out before the text is read.
 */

/** A finding as tests state it. Lines and characters count from 1, `to` is the character after the last. */
export interface Expected {
  readonly file: string;
  readonly line: number;
  readonly from: number;
  readonly to: number;
  readonly check: string;
  readonly message: string;
}

/** The text without its expectation comments, and what they expect. */
export function splitExpectations(
  file: string,
  marked: string,
): { readonly text: string; readonly expected: Expected[] } {
  const lines: string[] = [];
  const expected: Expected[] = [];
  for (const line of marked.split('\n')) {
    const parts = /^(#(?:<\^*| *\^+)) ([a-z-]+): (.*)$/.exec(line);
    if (!parts) {
      lines.push(line);
      continue;
    }
    const [, marks = '', check = '', message = ''] = parts;
    const from = marks.startsWith('#<') ? 0 : marks.indexOf('^');
    expected.push({ file, line: lines.length, from: from + 1, to: marks.length + 1, check, message });
  }
  return { text: lines.join('\n'), expected };
}
