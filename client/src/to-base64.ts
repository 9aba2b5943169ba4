/** Bytes handed to one call: more arguments than a call takes would end it. */
const chunkBytes = 0x2000;

/** Bytes as base64, in Node and in browsers. */
export function toBase64(bytes: Uint8Array): string {
  let text = '';
  for (let from = 0; from < bytes.length; from += chunkBytes) {
    text += String.fromCharCode(...bytes.subarray(from, from + chunkBytes));
  }
  return btoa(text);
}
