import { singleSpaced } from './single-spaced.ts';

/**
 * A text value as it is compared: without regard to case, repeated spaces and spaces at the ends.
 * Lower case is taken letter by letter, without a language, so that a base reads alike on every machine.
 */
export function foldText(text: string): string {
  return singleSpaced(text).toLowerCase();
}
