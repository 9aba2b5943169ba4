import type { Scalar, SideKey } from '../conditions/formula.ts';
import { splitRevision } from '../terms/revision-name.ts';
import type { Witness } from './witness.ts';

/** A witness as words: "a swap with family `tern-2`, the same `firmware` on both and `heads` `4` on the donor". */
export function describeWitness(witness: Witness): string {
  const { patient, donor, family, facts, maker, rom, dropIn } = witness;
  const keys = [...new Set([...Object.keys(patient), ...Object.keys(donor)])] as SideKey[];
  const parts = [
    ...(family === undefined ? [] : [isNew(family) ? 'a family that is not recorded' : `family \`${family}\``]),
    ...(maker === undefined ? [] : [`maker ${named(maker)}`]),
    ...Object.entries(facts).map(([key, value]) => `\`${key}\` \`${value}\``),
    ...keys.map((key) => describeKey(key, patient[key], donor[key])),
    ...(dropIn ? ["the donor's revision a drop-in for the patient's"] : []),
    ...(rom === undefined ? [] : [`\`rom\` \`${rom}\``]),
  ];
  const last = parts.pop();
  if (last === undefined) return 'any swap';
  return `a swap with ${parts.length === 0 ? last : `${parts.join(', ')} and ${last}`}`;
}

function describeKey(key: SideKey, patient: Scalar | undefined, donor: Scalar | undefined): string {
  if (key === 'rev') return describeRevisions(patient, donor);
  const name = `\`${key}\``;
  if (patient === undefined || donor === undefined) {
    const [value, side] = patient === undefined ? [donor, 'donor'] : [patient, 'patient'];
    return isNew(value) ? `another ${name} on the ${side}` : `${name} \`${value}\` on the ${side}`;
  }
  if (patient === donor) return isNew(patient) ? `the same ${name} on both` : `${name} \`${patient}\` on both`;
  if (isNew(patient) && isNew(donor)) return `two different ${name}`;
  return `${name} ${named(patient)} on the patient and ${named(donor)} on the donor`;
}

/** Revisions are written BOARD/REV; of one that is not recorded only what it has to do with the other is told. */
function describeRevisions(patient: Scalar | undefined, donor: Scalar | undefined): string {
  if (patient === undefined || donor === undefined) {
    const [value, side] = patient === undefined ? [donor, 'donor'] : [patient, 'patient'];
    return `${namedRevision(value)} on the ${side}`;
  }
  if (patient === donor) return isNewRevision(patient) ? 'the same `rev` on both' : `\`rev\` \`${patient}\` on both`;
  if (!isNewRevision(patient) || !isNewRevision(donor)) {
    return `${namedRevision(patient)} on the patient and ${namedRevision(donor).replace('`rev` ', '')} on the donor`;
  }
  return boardOf(patient) === boardOf(donor) ? 'two revisions of one board' : 'two different boards';
}

function namedRevision(value: Scalar | undefined): string {
  if (value === undefined || isNewRevision(value)) return 'another `rev`';
  const { board, rev } = splitRevision(String(value));
  return isNew(rev) ? `another revision of board \`${board}\`` : `\`rev\` \`${value}\``;
}

function named(value: Scalar): string {
  return isNew(value) ? 'another' : `\`${value}\``;
}

/** Texts that stand for any that nothing names. */
function isNew(value: Scalar | undefined): boolean {
  return typeof value === 'string' && /^new-\d+$/.test(value);
}

function isNewRevision(value: Scalar): boolean {
  return isNew(boardOf(value));
}

function boardOf(value: Scalar): string {
  return splitRevision(String(value)).board;
}
