/** A title for the middle of a sentence: with a small first letter, unless it begins with an abbreviation. */
export function inSentence(title: string): string {
  return title.replace(/^[A-Z](?=[a-z])/, (capital) => capital.toLowerCase());
}
