/** Letters that are more than a base with a mark. Source: common practice in German, no source. */
const spelt: Readonly<Record<string, string>> = { ä: 'ae', ö: 'oe', ü: 'ue', ß: 'ss', æ: 'ae', ø: 'oe' };

/** The text as an id: lower-case words and digits joined by hyphens. Empty where it holds neither. */
export function slugOf(text: string): string {
  const plain = text
    .normalize('NFC')
    .toLowerCase()
    .replace(/[\u0080-\uffff]/g, (letter) => spelt[letter] ?? letter)
    .normalize('NFKD')
    .replace(/\p{M}+/gu, '');
  return (plain.match(/[a-z0-9]+/g) ?? []).join('-');
}
