/**
 * A text with comments added before and after some of its lines, as `picks` say in turn. The text is one that `stringify` wrote, in
 * which nothing but texts after `|` or `>` spans lines; those are left alone.
 */
export function addComments(text: string, picks: readonly number[]): string {
  const lines: string[] = [];
  let blockIndent: number | undefined;
  for (const [position, line] of text.split('\n').entries()) {
    const indent = line.search(/\S/);
    if (blockIndent !== undefined && (indent < 0 || indent > blockIndent)) {
      lines.push(line);
      continue;
    }
    const pick = (picks[position % picks.length] ?? 0) % 4;
    if (pick === 1) lines.push(`${' '.repeat(Math.max(indent, 0))}# kind: comment, and "so: on`);
    lines.push(pick === 2 && indent >= 0 ? `${line} # as read: [twice` : line);
    blockIndent = / [|>][-+]?( #.*)?$/.test(line) ? indent : undefined;
  }
  return lines.join('\n');
}
