import { inThousands } from './in-thousands.ts';
import { quotedList } from './quoted-list.ts';

/** Names in a row: "`a`, `b` and `c`". */
export function inARow(names: readonly string[]): string {
  const last = quotedList(names.slice(-1));
  return names.length < 2 ? last : `${quotedList(names.slice(0, -1))} and ${last}`;
}

/** At most so many names in a row, the last of them the number of all others: "`a`, `b` and 12 others". */
export function someInARow(names: readonly string[], most: number): string {
  if (names.length <= most) return inARow(names);
  return `${quotedList(names.slice(0, most - 1))} and ${inThousands(names.length - most + 1)} others`;
}
