import type { Atom, Formula } from '../conditions/formula.ts';

/** What some conditions ask of the donor, each question once. What they ask of the patient alone is the same for all donors. */
export function donorQuestions(conditions: readonly Formula[]): readonly Formula[] {
  const asked = new Map<string, Formula>();
  for (const condition of conditions) collect(condition, asked);
  return [...asked.values()];
}

function collect(formula: Formula, asked: Map<string, Formula>): void {
  if (formula.op === 'not') collect(formula.part, asked);
  else if (formula.op !== 'atom') for (const part of formula.parts) collect(part, asked);
  else if (isAboutDonor(formula.atom)) asked.set(JSON.stringify(formula.atom), formula);
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
