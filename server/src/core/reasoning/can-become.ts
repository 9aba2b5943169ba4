import { evaluateAtom } from '../conditions/evaluate.ts';
import type { Atom, Formula } from '../conditions/formula.ts';
import type { Swap } from '../conditions/swap.ts';

/** Whether a formula can become true, or false, once the atoms that can be asked about are known. */
export function canBecome(wanted: boolean, formula: Formula, swap: Swap, canAsk: (atom: Atom) => boolean): boolean {
  switch (formula.op) {
    case 'atom': {
      const truth = evaluateAtom(formula.atom, swap);
      return truth === undefined ? canAsk(formula.atom) : truth === wanted;
    }
    case 'not':
      return canBecome(!wanted, formula.part, swap, canAsk);
    default: {
      const takesAll = (formula.op === 'all') === wanted;
      const can = (part: Formula): boolean => canBecome(wanted, part, swap, canAsk);
      return takesAll ? formula.parts.every(can) : formula.parts.some(can);
    }
  }
}
