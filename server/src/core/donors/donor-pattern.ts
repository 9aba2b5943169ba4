import { evaluateAtom } from '../conditions/evaluate.ts';
import type { Atom, Formula } from '../conditions/formula.ts';
import type { Swap } from '../conditions/swap.ts';

/** What some conditions ask of the donor, each question once. What they ask of the patient alone is the same for all donors. */
export function donorQuestions(conditions: readonly Formula[]): readonly Atom[] {
  const asked = new Map<string, Atom>();
  for (const condition of conditions) collect(condition, asked);
  return [...asked.values()];
}

/** A text that is equal for planned swaps of one patient whose donors give the same answers, so that conditions say the same of them. */
export function donorPattern(swap: Swap, questions: readonly Atom[]): string {
  let pattern = '';
  for (const atom of questions) {
    const truth = evaluateAtom(atom, swap);
    pattern += truth === undefined ? '?' : truth ? 'y' : 'n';
  }
  return pattern;
}

function collect(formula: Formula, asked: Map<string, Atom>): void {
  if (formula.op === 'not') collect(formula.part, asked);
  else if (formula.op !== 'atom') for (const part of formula.parts) collect(part, asked);
  else if (isAboutDonor(formula.atom)) asked.set(JSON.stringify(formula.atom), formula.atom);
}

function isAboutDonor(atom: Atom): boolean {
  switch (atom.test) {
    case 'same':
    case 'drop_in':
    case 'made_within':
      return true;
    case 'side':
      return atom.side === 'donor';
    case 'rom_travels':
    case 'family':
      return false;
  }
}
