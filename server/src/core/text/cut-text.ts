/** Text of at most so many UTF-16 code units, with a mark at its end where it was cut; no character is cut in two. */
export function cutText(text: string, longest: number): string {
  return text.length <= longest ? text : `${text.slice(0, longest - 1).replace(/[\ud800-\udbff]$/, '')}…`;
}
