/** Thrown by the fast reader's parts and caught in `read-fast.ts` alone: a flag tested after every step would cost more than the steps. */
export const giveUp = Symbol('give up');

/** Leaves this text to the recovering reader. */
export function leave(): never {
  throw giveUp;
}

/** Code units the fast reader looks for. */
export const unit = {
  newline: 10,
  return: 13,
  space: 32,
  doubleQuote: 34,
  hash: 35,
  percent: 37,
  singleQuote: 39,
  comma: 44,
  dash: 45,
  dot: 46,
  colon: 58,
  greater: 62,
  question: 63,
  openList: 91,
  backslash: 92,
  closeList: 93,
  openMap: 123,
  bar: 124,
  closeMap: 125,
} as const;

/** Characters a plain scalar cannot begin with, besides `-`, `?` and `:` before a space. */
const indicators: readonly boolean[] = Array.from({ length: 128 }, (_, code) =>
  '&*!|>\'"%@`#,[]{}'.includes(String.fromCharCode(code)),
);

/** Whether a plain scalar may begin at this offset. */
export function canStartPlain(text: string, at: number): boolean {
  const first = text.charCodeAt(at);
  if (indicators[first]) return false;
  if (first !== unit.dash && first !== unit.question && first !== unit.colon) return true;
  const second = text.charCodeAt(at + 1);
  // Not only a space, which would make it an indicator: brackets and commas count too between brackets.
  return (second >= 48 && second <= 57) || (second >= 97 && second <= 122) || (second >= 65 && second <= 90);
}

/** The end of the text before `end` without trailing spaces. */
export function trimEnd(text: string, start: number, end: number): number {
  let at = end;
  while (at > start && text.charCodeAt(at - 1) === unit.space) at--;
  return at;
}

/** The offset of the first character at or after `at` that is no space, at most `end`. */
export function skipSpaces(text: string, at: number, end: number): number {
  let found = at;
  while (found < end && text.charCodeAt(found) === unit.space) found++;
  return found;
}

/** What the end of a line inside a scalar means, where so many blank lines follow it: a space, or one line break for each. */
export function foldedBreak(blanks: number): string {
  return blanks === 0 ? ' ' : '\n'.repeat(blanks);
}
