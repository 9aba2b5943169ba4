import type { PlacedToken } from './format-blocks.ts';

/** How many spaces stand between two tokens of one line; undefined where they stay as they are. */
export function formatGap(text: string, before: PlacedToken, after: PlacedToken): number | undefined {
  // Comments may be lined up.
  if (after.kind === 'comment' || before.kind === 'marker') return undefined;
  switch (before.kind) {
    case '-':
      return after.isHead && after.block?.isPinned ? undefined : 1;
    case '[':
      return 0;
    case '{':
      return after.kind === '}' ? 0 : 1;
    case ',':
      return after.kind === ']' ? 0 : 1;
    case ':':
    case 'property':
      // Without a space what follows might become part of the name, or of a value that is not there.
      return after.kind === ']' || after.kind === ',' ? undefined : 1;
    default:
      return beforeSign(text, before, after);
  }
}

function beforeSign(text: string, before: PlacedToken, after: PlacedToken): number | undefined {
  switch (after.kind) {
    case ':':
      // The name of an alias may hold a colon.
      return before.kind === 'key' && text.charAt(before.start) !== '*' ? 0 : undefined;
    case ',':
    case ']':
      return 0;
    case '}':
      return 1;
    default:
      return undefined;
  }
}
