/** Where the line that holds an offset begins. Lines end at `\n`, `\r\n` or `\r`. */
export function lineStart(text: string, offset: number): number {
  let at = offset;
  while (at > 0 && !isBreak(text, at - 1)) at--;
  return at;
}

/** Where the line that holds an offset ends, its line end left out. */
export function lineEnd(text: string, offset: number): number {
  let at = offset;
  while (at < text.length && !isBreak(text, at)) at++;
  return at;
}

/** Where the next line begins; the end of the text on the last line. */
export function nextLine(text: string, offset: number): number {
  const end = lineEnd(text, offset);
  return text.startsWith('\r\n', end) ? end + 2 : Math.min(end + 1, text.length);
}

/** Characters between the beginning of the line and an offset. */
export function columnOf(text: string, offset: number): number {
  return offset - lineStart(text, offset);
}

/** The line end of the line that holds an offset; where it has none, that of the line before; `\n` in a text of one line. */
export function lineBreakAt(text: string, offset: number): string {
  const own = breakFrom(text, lineEnd(text, offset));
  if (own !== '') return own;
  const start = lineStart(text, offset);
  if (start === 0) return '\n';
  return text.startsWith('\r\n', start - 2) ? '\r\n' : text.charAt(start - 1);
}

function breakFrom(text: string, end: number): string {
  return text.slice(end, nextLine(text, end));
}

/** Past spaces and line ends: the offset of what stands next. */
export function skipBlank(text: string, offset: number): number {
  let at = offset;
  while (/[ \t\r\n]/.test(text.charAt(at))) at++;
  return at;
}

/** The same past comments as well. */
export function skipTrivia(text: string, offset: number): number {
  let at = offset;
  for (;;) {
    at = skipBlank(text, at);
    if (text.charAt(at) !== '#') return at;
    at = lineEnd(text, at);
  }
}

/** Whether from this offset on the line holds nothing but spaces and a comment. */
export function isRestBlank(text: string, offset: number): boolean {
  return /^[ \t]*(?:#.*)?$/.test(text.slice(offset, lineEnd(text, offset)));
}

/** Whether the offset is the first thing on its line. */
export function isFirstOnLine(text: string, offset: number): boolean {
  return text.slice(lineStart(text, offset), offset).trim() === '';
}

/** Whether a comment begins in a stretch that lies between values. */
export function hasComment(text: string, start: number, end: number): boolean {
  return /(?:^|[\s,[{:-])#/.test(text.slice(start, end));
}

function isBreak(text: string, at: number): boolean {
  const unit = text.charCodeAt(at);
  return unit === 10 || unit === 13;
}
