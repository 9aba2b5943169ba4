import type { ComparableKey } from '../../../../schemas/gen/key-table.ts';
import type { ConditionData } from '../../../../schemas/gen/records.ts';
import type { Path } from '../syntax/tape.ts';

/** Which end of a swap a condition looks at. */
export type SideName = 'patient' | 'donor';

/** A key that a condition about one side may name: the comparable keys, and two that are never compared. */
export type SideKey = ComparableKey | 'made' | 'power_on_hours';

/** A single value as written in a condition. */
export type Scalar = string | number | boolean;

/** The values an entry accepts: any of a list, or a range whose ends count. */
export type Accepts =
  | { readonly anyOf: readonly Scalar[] }
  | { readonly from: string | number | undefined; readonly to: string | number | undefined };

/** The smallest thing a condition can ask of a swap. */
export type Atom =
  | { readonly test: 'same'; readonly key: ComparableKey }
  | { readonly test: 'rom_travels' }
  | { readonly test: 'drop_in' }
  | { readonly test: 'made_within'; readonly weeks: number }
  | { readonly test: 'side'; readonly side: SideName; readonly key: SideKey; readonly accepts: Accepts }
  | { readonly test: 'family'; readonly key: FamilyKey; readonly accepts: Accepts };

/** A key of the patient's family that a condition may name. */
export type FamilyKey = keyof NonNullable<ConditionData['family_is']>;

/** A condition with its entries spelt out: what solver, evaluation and explanation all read. */
export type Formula =
  | { readonly op: 'all'; readonly parts: readonly Formula[] }
  | { readonly op: 'any'; readonly parts: readonly Formula[] }
  | { readonly op: 'not'; readonly part: Formula }
  | { readonly op: 'atom'; readonly atom: Atom; readonly path: Path };

/** The formula of a condition map; `path` is where the map stands in its rule. All entries must hold; an empty map holds. */
export function toFormula(condition: ConditionData, path: Path): Formula {
  const parts: Formula[] = [];
  for (const [position, key] of (condition.same ?? []).entries())
    parts.push(sameAtom(key, [...path, 'same', position]));
  for (const [position, key] of (condition.different ?? []).entries()) {
    parts.push({ op: 'not', part: sameAtom(key, [...path, 'different', position]) });
  }
  if (condition.rom_travels !== undefined) parts.push(romFormula(condition.rom_travels, [...path, 'rom_travels']));
  if (condition.revision !== undefined) parts.push(revisionFormula(condition.revision, [...path, 'revision']));
  for (const side of ['patient', 'donor'] as const) {
    for (const [key, value] of entriesOf(condition[side])) {
      parts.push(atom({ test: 'side', side, key: key as SideKey, accepts: toAccepts(value) }, [...path, side, key]));
    }
  }
  for (const [key, value] of entriesOf(condition.family_is)) {
    parts.push(atom({ test: 'family', key: key as FamilyKey, accepts: toAccepts(value) }, [...path, 'family_is', key]));
  }
  if (condition.made_within_weeks !== undefined) {
    parts.push(atom({ test: 'made_within', weeks: condition.made_within_weeks }, [...path, 'made_within_weeks']));
  }
  const inner = (name: 'all' | 'any' | 'none'): Formula[] =>
    (condition[name] ?? []).map((part, position) => toFormula(part, [...path, name, position]));
  if (condition.all) parts.push({ op: 'all', parts: inner('all') });
  if (condition.any) parts.push({ op: 'any', parts: inner('any') });
  if (condition.none) parts.push({ op: 'not', part: { op: 'any', parts: inner('none') } });
  return { op: 'all', parts };
}

function atom(of: Atom, path: Path): Formula {
  return { op: 'atom', atom: of, path };
}

function sameAtom(key: ComparableKey, path: Path): Formula {
  return atom({ test: 'same', key }, path);
}

function romFormula(wanted: boolean, path: Path): Formula {
  const travels = atom({ test: 'rom_travels' }, path);
  return wanted ? travels : { op: 'not', part: travels };
}

/** `rev` means board and revision together, so equal `rev` is the same revision of the same board. */
function revisionFormula(relation: 'same' | 'drop_in' | 'other', path: Path): Formula {
  if (relation === 'same') return sameAtom('rev', path);
  const dropIn = atom({ test: 'drop_in' }, path);
  if (relation === 'drop_in') return dropIn;
  return { op: 'all', parts: [sameAtom('board', path), { op: 'not', part: dropIn }] };
}

function entriesOf(map: object | undefined): [string, unknown][] {
  return Object.entries(map ?? {}).filter(([key]) => !key.startsWith('x-'));
}

function toAccepts(value: unknown): Accepts {
  if (Array.isArray(value)) return { anyOf: value };
  if (typeof value !== 'object' || value === null) return { anyOf: [value as Scalar] };
  const { from, to } = value as { from?: string | number; to?: string | number };
  return { from, to };
}
