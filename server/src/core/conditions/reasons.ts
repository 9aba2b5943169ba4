import { evaluate, evaluateAtom } from './evaluate.ts';
import type { Atom, Formula } from './formula.ts';
import type { Swap } from './swap.ts';
import type { Truth } from './truth.ts';

/** An atom that makes a formula what it is on a swap. */
export interface Reason {
  readonly atom: Atom;
  readonly truth: Truth;
}

/**
 * The atoms that make a formula true or false on a swap, in the order of the formula, each once: of a false `all` only the false
 * parts count, of a true `any` only the true ones. Where the formula is not known: the atoms that are not.
 */
export function reasonsFor(formula: Formula, swap: Swap): Reason[] {
  const reasons = new Map<string, Reason>();
  collect(formula, swap, evaluate(formula, swap), reasons);
  return [...reasons.values()];
}

function collect(formula: Formula, swap: Swap, truth: Truth, reasons: Map<string, Reason>): void {
  if (formula.op === 'atom') {
    reasons.set(JSON.stringify(formula.atom), { atom: formula.atom, truth: evaluateAtom(formula.atom, swap) });
    return;
  }
  if (formula.op === 'not') {
    collect(formula.part, swap, truth === undefined ? undefined : !truth, reasons);
    return;
  }
  for (const part of formula.parts) {
    const own = evaluate(part, swap);
    if (own === truth) collect(part, swap, own, reasons);
  }
}
