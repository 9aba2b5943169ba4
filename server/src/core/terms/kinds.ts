/** The kinds of record a base holds, in the order reports and reference pages list them. */
export const kinds = ['maker', 'family', 'board', 'drive', 'outcome', 'rule'] as const;

/** The kind of a record. */
export type Kind = (typeof kinds)[number];

/** Several records of a kind, in a word. */
export function pluralOf(kind: Kind): string {
  return kind === 'family' ? 'families' : `${kind}s`;
}
