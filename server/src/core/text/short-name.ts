import { cutText } from './cut-text.ts';
import { visible } from './visible.ts';

/** UTF-16 code units of a name that stands in a title. */
const longestName = 80;

/** A name out of a file made fit for a title or a list: on one line, and cut where it is longer than any name. */
export function shortName(name: string): string {
  return cutText(visible(cutText(name, longestName)), longestName);
}
