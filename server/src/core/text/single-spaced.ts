/** A text without spaces at its ends, and with one space for each run of them and of line ends. */
export function singleSpaced(text: string): string {
  return text.trim().replace(/\s+/g, ' ');
}
