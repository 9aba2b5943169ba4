/** Where something stands in a file of bytes: `0x001F40`, with more digits where six are too few. */
export function hexOffset(at: number): string {
  return `0x${at.toString(16).toUpperCase().padStart(6, '0')}`;
}
