/** What a rule may claim about the swaps that meet its condition. */
export const claims = [
  {
    name: 'needs',
    meaning: 'A swap in scope that works must meet the condition.',
    reads: 'needs',
  },
  {
    name: 'enough',
    meaning: 'A swap in scope that meets the condition works.',
    reads: 'works wherever this holds:',
  },
  {
    name: 'prevents',
    meaning: 'A swap in scope that meets the condition does not work.',
    reads: 'is prevented by',
  },
] as const;

/** The name of a claim. */
export type Claim = (typeof claims)[number]['name'];
