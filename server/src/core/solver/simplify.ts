import { always, type Constraint, never } from './terms.ts';

/** The constraint without the parts that hold always or never by themselves. */
export function simplify(constraint: Constraint): Constraint {
  switch (constraint.op) {
    case 'all':
    case 'any':
      return simplifyParts(constraint.op, constraint.parts.map(simplify));
    case 'not': {
      const part = simplify(constraint.part);
      if (isAlways(part)) return never;
      if (isNever(part)) return always;
      return part.op === 'not' ? part.part : { op: 'not', part };
    }
    case 'at-most':
      return { ...constraint, parts: constraint.parts.map(simplify) };
    default:
      return constraint;
  }
}

/** Whether this is the constraint that holds always. */
export function isAlways(constraint: Constraint): boolean {
  return constraint.op === 'all' && constraint.parts.length === 0;
}

/** Whether this is the constraint that holds never. */
function isNever(constraint: Constraint): boolean {
  return constraint.op === 'any' && constraint.parts.length === 0;
}

/** The names of the slots and flags a constraint speaks of; flags are marked as such. */
export function namesIn(constraint: Constraint, names: Set<string> = new Set()): Set<string> {
  switch (constraint.op) {
    case 'all':
    case 'any':
    case 'at-most':
      for (const part of constraint.parts) namesIn(part, names);
      break;
    case 'not':
      namesIn(constraint.part, names);
      break;
    case 'equal':
      names.add(constraint.a.name).add(constraint.b.name);
      break;
    case 'in':
      names.add(constraint.slot.name);
      break;
    case 'at-most-after':
      names.add(constraint.a.name);
      if (constraint.b) names.add(constraint.b.name);
      break;
    case 'flag':
      names.add(flagMark + constraint.name);
  }
  return names;
}

/** What the names of flags begin with among those of slots. */
export const flagMark = 'flag ';

function simplifyParts(op: 'all' | 'any', parts: readonly Constraint[]): Constraint {
  const [isNeutral, isDecisive] = op === 'all' ? [isAlways, isNever] : [isNever, isAlways];
  const open: Constraint[] = [];
  for (const part of parts) {
    if (isDecisive(part)) return part;
    if (isNeutral(part)) continue;
    if (part.op === op) open.push(...part.parts);
    else open.push(part);
  }
  const [only] = open;
  return open.length === 1 && only ? only : { op, parts: open };
}
