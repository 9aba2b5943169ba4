/**
 * Keys and values repeat from file to file: `kind`, `works`, the ids of drives. Each is kept once, so that a base in memory holds few
 * of them, and a map's keys are compared by identity. What is kept depends on what was read before; what a text is never does.
 */

/** Longest text that is looked up; longer ones hardly ever repeat. */
const longest = 32;
const slotCount = 1 << 13;
const slots: (string | undefined)[] = Array.from({ length: slotCount }, () => undefined);

/** The part of a text, as a text that does not keep the whole in memory. */
export function sharedPart(text: string, start: number, end: number): string {
  const length = end - start;
  if (length > longest) return detached(text.slice(start, end));
  let hash = length;
  for (let at = start; at < end; at++) hash = (Math.imul(hash, 31) + text.charCodeAt(at)) | 0;
  const slot = (hash ^ (hash >>> 13)) & (slotCount - 1);
  const known = slots[slot];
  if (known !== undefined && known.length === length && text.startsWith(known, start)) return known;
  const own = detached(text.slice(start, end));
  slots[slot] = own;
  return own;
}

/** A copy of a text: engines make a longer part of a text a view that keeps the whole alive. Joining lays out a new one. */
function detached(text: string): string {
  return text.length < 13 ? text : [text.slice(0, 12), text.slice(12)].join('');
}
