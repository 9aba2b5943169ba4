const decoder = new TextDecoder('utf-8', { fatal: true });

/** Text of a file, or why its bytes are not text. */
export type Decoded = { readonly text: string } | { readonly reason: string };

/**
 * Decodes UTF-8. A byte order mark at the start is left out, so offsets count from the first real character,
 * as they do in an editor. NUL is refused: no YAML file holds one, and many programs stop reading there.
 */
export function decodeText(bytes: Uint8Array): Decoded {
  if (looksLikeUtf16(bytes)) return { reason: 'it is UTF-16, not UTF-8' };
  let text: string;
  try {
    text = decoder.decode(bytes);
  } catch {
    return { reason: 'it is not UTF-8' };
  }
  const nul = text.indexOf('\u0000');
  return nul < 0 ? { text } : { reason: `it holds a NUL character at offset ${nul}` };
}

function looksLikeUtf16(bytes: Uint8Array): boolean {
  // By index: taking an array of bytes apart runs an iterator, for every file of a base.
  return (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
}
