/** The name of a pair of drives, the same whichever way round. Ids hold no space. */
export function pairName(a: string, b: string): string {
  return a < b ? `${a} ${b}` : `${b} ${a}`;
}
