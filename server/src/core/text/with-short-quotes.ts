/**
 * Laws (test/property/with-short-quotes.property.test.ts):
 * - sentences as they are written stay as they are
 * - however long the values a sentence quotes, it stays short and its own words stand
 */
import { cutText } from './cut-text.ts';

/** UTF-16 code units a quoted value keeps: more than any condition of a rule takes up. */
const longestQuote = 400;

/** UTF-16 code units of a sentence with all its quotes. */
const longestSentence = 8_000;

/** A sentence in which no value between backticks is longer than anybody reads: a file may hold one of a million characters. */
export function withShortQuotes(sentence: string): string {
  if (sentence.length <= longestQuote) return sentence;
  const quoting = sentence.replace(/`([^`]+)`/g, (_quote, value: string) => `\`${cutText(value, longestQuote)}\``);
  return cutText(quoting, longestSentence);
}
