import type { DecidedSwap } from '../explanations/decided-swaps.ts';
import { plural } from '../text/plural.ts';

/** How many outcomes of a family are decided, as a sentence or two. */
export function decidedWords(
  { decided, open }: { readonly decided: readonly DecidedSwap[]; readonly open: number },
  worksAt: string,
): string {
  const { outcomes, pairs, worked, failed } = countsOf(decided);
  const left = open === 0 ? '' : ` ${plural(open, 'inconclusive one')} ${open === 1 ? 'says' : 'say'} nothing.`;
  if (outcomes === 0) return `No outcome is decided at \`${worksAt}\`.${left}`;
  const are = outcomes === 1 ? 'is' : 'are';
  return `${plural(outcomes, 'outcome')} of ${plural(pairs, 'pair')} ${are} decided at \`${worksAt}\`: ${worked} worked, ${failed} failed.${left}`;
}

/** Outcomes and pairs among decided swaps, and how many outcomes worked. */
export function countsOf(decided: readonly DecidedSwap[]): {
  readonly outcomes: number;
  readonly pairs: number;
  readonly worked: number;
  readonly failed: number;
} {
  const worked = decided.filter(({ works }) => works).length;
  const pairs = new Set(decided.map(({ pair }) => pair)).size;
  return { outcomes: decided.length, pairs, worked, failed: decided.length - worked };
}
