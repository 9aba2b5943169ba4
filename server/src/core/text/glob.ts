/** A part of a pattern: a character as it is, or what a run of wildcards may stand for. */
type Part = { readonly literal: string } | { readonly wild: 'one' | 'many' | 'across' | 'folders' };

/**
 * A pattern as a test of whole paths: `*` and `?` stay within one folder, `**` crosses folders, `**` with a slash may be nothing.
 * Everything else means itself. The time taken is at most the product of both lengths, whatever the pattern.
 */
export function globTest(pattern: string): (path: string) => boolean {
  const parts = (pattern.match(/\*\*\/|\*\*|\*|\?|[\s\S]/gu) ?? []).map(toPart);
  return (path) => matches(parts, [...path]);
}

const wildcards: ReadonlyMap<string, Part> = new Map([
  ['**/', { wild: 'folders' }],
  ['**', { wild: 'across' }],
  ['*', { wild: 'many' }],
  ['?', { wild: 'one' }],
]);

function toPart(text: string): Part {
  return wildcards.get(text) ?? { literal: text };
}

/** Keeps, character by character, the places in the pattern that the path may have reached. */
function matches(parts: readonly Part[], path: readonly string[]): boolean {
  let reached = withSkips(parts, [0], true);
  let isFolderStart = false;
  for (const character of path) {
    isFolderStart = character === '/';
    const next: number[] = [];
    for (const place of reached) {
      const part = parts[place];
      if (!part) continue;
      if ('literal' in part) {
        if (part.literal === character) next.push(place + 1);
      } else if (part.wild === 'one') {
        if (character !== '/') next.push(place + 1);
      } else if (part.wild === 'many') {
        if (character !== '/') next.push(place);
      } else {
        next.push(place);
      }
    }
    reached = withSkips(parts, next, isFolderStart);
  }
  return reached.has(parts.length);
}

/** The places, and those behind wildcards that may end here: `folders` only where a folder's name is complete. */
function withSkips(parts: readonly Part[], places: readonly number[], isFolderStart: boolean): Set<number> {
  const reached = new Set<number>();
  for (const start of places) {
    for (let place = start; !reached.has(place); place++) {
      reached.add(place);
      const part = parts[place];
      if (!part || 'literal' in part || part.wild === 'one') break;
      if (part.wild === 'folders' && !isFolderStart) break;
    }
  }
  return reached;
}
