/** Names one after the other: "`a`, `b`, `c`". Empty where there are none. */
export function quotedList(names: readonly (string | number | boolean)[], between = ', '): string {
  return names.map((name) => `\`${name}\``).join(between);
}
