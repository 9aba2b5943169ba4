/**
 * Text from files made safe to show on one line: control characters, line ends among them, which could move the cursor or recolour the
 * screen, and marks that turn the direction of writing become visible escapes.
 */
export function visible(text: string): string {
  return text.replace(
    /[\p{Cc}\p{Zl}\p{Zp}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu,
    (character) => `\\u${(character.codePointAt(0) ?? 0).toString(16).padStart(4, '0')}`,
  );
}
