/** Names one after the other: "`a`, `b`, `c`". Empty where there are none. */
export function quotedList(names: readonly (string | number)[]): string {
  return names.map((name) => `\`${name}\``).join(', ');
}
