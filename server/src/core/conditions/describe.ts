import { quotedList } from '../text/quoted-list.ts';
import { type Cell, cellOf, familyCellOf, hoursCellOf } from './cell.ts';
import type { Accepts, Atom, Formula, Scalar, SideName } from './formula.ts';
import type { Reason } from './reasons.ts';
import { romActionsOf } from './rom-travels.ts';
import type { Side, Swap } from './swap.ts';

/** A formula the way a condition is written, in YAML flow form: `same: [rev], rom_travels: true`. */
export function describeFormula(formula: Formula): string {
  switch (formula.op) {
    case 'all':
      return describeAll(formula.parts) || 'anything';
    case 'any':
      return `any: ${describeMaps(formula.parts)}`;
    case 'not':
      return describeNot(formula.part);
    case 'atom':
      return describeAtom(formula.atom);
  }
}

/** What a swap holds that makes an atom true or false, as a clause: "`rev` is `a/B` on patient `d-1` and `a/C` on donor `d-2`". */
export function describeReason({ atom }: Reason, swap: Swap): string {
  switch (atom.test) {
    case 'same':
      return bothSides(swap, atom.key, (side) => describeCell(cellOf(side, atom.key), side, atom.key));
    case 'drop_in':
      return bothSides(swap, 'rev', (side) => describeCell(cellOf(side, 'rev'), side, 'rev'));
    case 'made_within':
      return bothSides(swap, 'made', (side) =>
        side.drive.data.made === undefined ? 'not recorded' : `\`${side.drive.data.made}\``,
      );
    case 'rom_travels':
      return describeRom(swap);
    case 'side':
      return `\`${atom.key}\` is ${describeSideValue(swap, atom.side, atom)} on ${atom.side} \`${swap[atom.side].drive.id}\``;
    case 'family':
      return `\`${atom.key}\` of family \`${swap.patient.drive.data.family ?? 'not recorded'}\` is ${describeValue(familyCellOf(swap, atom.key))}`;
  }
}

/** Entries of one map of a condition stand in it together. */
function describeAll(parts: readonly Formula[]): string {
  const texts: string[] = [];
  let open: string | undefined;
  for (const part of parts) {
    const map = part.op === 'atom' ? mapOf(part.atom) : undefined;
    const text = describeFormula(part);
    if (map !== undefined && map === open)
      texts.push(`${texts.pop()?.slice(0, -1)}, ${text.slice(`${map}: {`.length)}`);
    else texts.push(text);
    open = map;
  }
  return texts.join(', ');
}

/** The map of a condition in which an atom is an entry. */
function mapOf(atom: Atom): string | undefined {
  if (atom.test === 'side') return atom.side;
  return atom.test === 'family' ? 'family_is' : undefined;
}

function describeMaps(parts: readonly Formula[]): string {
  return `[${parts.map((part) => `{${describeFormula(part)}}`).join(', ')}]`;
}

function describeNot(part: Formula): string {
  if (part.op === 'any') return `none: ${describeMaps(part.parts)}`;
  if (part.op !== 'atom') return `none: [{${describeFormula(part)}}]`;
  if (part.atom.test === 'same') return `different: [${part.atom.key}]`;
  if (part.atom.test === 'rom_travels') return 'rom_travels: false';
  return `none: [{${describeAtom(part.atom)}}]`;
}

function describeAtom(atom: Atom): string {
  switch (atom.test) {
    case 'same':
      return `same: [${atom.key}]`;
    case 'rom_travels':
      return 'rom_travels: true';
    case 'drop_in':
      return 'revision: drop_in';
    case 'made_within':
      return `made_within_weeks: ${atom.weeks}`;
    case 'side':
      return `${atom.side}: {${atom.key}: ${describeAccepts(atom.accepts)}}`;
    case 'family':
      return `family_is: {${atom.key}: ${describeAccepts(atom.accepts)}}`;
  }
}

function describeAccepts(accepts: Accepts): string {
  if (!('anyOf' in accepts)) {
    const ends = [
      ['from', accepts.from],
      ['to', accepts.to],
    ].filter(([, end]) => end !== undefined);
    return `{${ends.map(([name, end]) => `${name}: ${end}`).join(', ')}}`;
  }
  const [only, ...others] = accepts.anyOf.map(String);
  return others.length === 0 && only !== undefined ? only : `[${accepts.anyOf.map(String).join(', ')}]`;
}

function bothSides(swap: Swap, key: string, describe: (side: Side) => string): string {
  const patient = `${describe(swap.patient)} on patient \`${swap.patient.drive.id}\``;
  return `\`${key}\` is ${patient} and ${describe(swap.donor)} on donor \`${swap.donor.drive.id}\``;
}

/** A value with its board where it was inherited, and a revision with its board, since a revision alone says nothing. */
function describeCell(cell: Cell, side: Side, key: string): string {
  if (key === 'rev') return `\`${side.drive.data.board?.id ?? '?'}/${side.drive.data.board?.rev ?? '?'}\``;
  const inherited = cell.state === 'known' && cell.source.record.kind === 'board';
  return inherited ? `${describeValue(cell)} (by board \`${cell.source.record.id}\`)` : describeValue(cell);
}

function describeValue(cell: Cell): string {
  if (cell.state === 'known') return quote(cell.value);
  return cell.within ? `one of ${cell.within.map(quote).join(', ')}` : 'not recorded';
}

function describeSideValue(swap: Swap, side: SideName, atom: Extract<Atom, { test: 'side' }>): string {
  if (atom.key === 'made') return quote(swap[side].drive.data.made ?? 'not recorded');
  if (atom.key === 'power_on_hours') return describeValue(hoursCellOf(swap, side));
  return describeCell(cellOf(swap[side], atom.key), swap[side], atom.key);
}

function describeRom({ outcome, patient }: Swap): string {
  const storedIn = patient.family?.data.adaptives?.stored_in;
  const where = storedIn === undefined ? '' : ` (this family keeps its adaptives in \`${storedIn}\`)`;
  const { rom_from: from } = outcome.data;
  if (from !== undefined) return `the adaptives on the board were those of \`${from}\`${where}`;
  const actions = romActionsOf(outcome);
  if (!actions) return `what was done about the ROM is not recorded${where}`;
  return `the ROM was ${quotedList(actions, ' and ')}${where}`;
}

function quote(value: Scalar): string {
  return `\`${value}\``;
}
