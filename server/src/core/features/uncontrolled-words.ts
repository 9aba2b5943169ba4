import type { FamilyOdds } from '../odds/family-odds.ts';

/** Which outcomes of a family are not counted, as part of a sentence: "3 that worked without every control"; undefined where all are. */
export function uncontrolledWords({ worked, open }: FamilyOdds['uncontrolled']): string | undefined {
  const left = [
    ...(worked === 0 ? [] : [`${worked} that worked without every control`]),
    ...(open === 0 ? [] : [`${open} inconclusive`]),
  ];
  return left.length === 0 ? undefined : left.join(', ');
}
