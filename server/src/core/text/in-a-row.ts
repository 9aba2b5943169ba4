/** Names in a row: "`a`, `b` and `c`". */
export function inARow(names: readonly string[]): string {
  const quoted = names.map((name) => `\`${name}\``);
  const last = quoted.pop() ?? '';
  return quoted.length === 0 ? last : `${quoted.join(', ')} and ${last}`;
}
