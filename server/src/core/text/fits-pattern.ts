import { foldText } from './fold.ts';

/**
 * Whether a text fits a pattern in which `*` stands for any run of characters and `?` for a single one; both are compared folded.
 * Takes at most pattern length times text length steps, whatever the pattern.
 */
export function fitsPattern(text: string, pattern: string): boolean {
  const wanted = [...foldText(pattern)];
  const given = [...foldText(text)];
  let at = 0;
  let star = -1;
  let resume = 0;
  let next = 0;
  while (at < given.length) {
    if (wanted[next] === '*') {
      star = next++;
      resume = at;
    } else if (next < wanted.length && (wanted[next] === '?' || wanted[next] === given[at])) {
      next++;
      at++;
    } else if (star >= 0) {
      // Let the last star take one character more and try the rest again.
      next = star + 1;
      at = ++resume;
    } else return false;
  }
  return wanted.slice(next).every((part) => part === '*');
}
