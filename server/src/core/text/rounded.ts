/** A number with at most this many decimals, and none that say nothing: `2.5`, `3`. */
export function rounded(value: number, decimals: number): string {
  return String(Number(value.toFixed(decimals)));
}
