import type { OutcomeData } from '../../schemas/gen/records.ts';
import { foldText } from '../../server/src/core/text/fold.ts';
import type { PlainBase, PlainRecord } from './arbitrary-base.ts';
import { driveValues, familyValues, hours, idPools, partValues, revs, romStates, storedIn } from './base-values.ts';

/** A slot without a value: the record of its owner as it would stand with one. `pick` chooses among the values it may get. */
export interface OpenSlot {
  readonly name: string;
  readonly learn: (pick: number) => PlainRecord;
}

/**
 * The slots of a base that hold no value, each with the owner the format gives it. What would be a correction and no learning is left
 * out: an own marking of a drive whose revision records the part or owns its slot, `rom_from`, another claim, another ROM.
 */
export function openSlots(base: PlainBase): OpenSlot[] {
  return [...driveSlots(base), ...revisionSlots(base), ...familySlots(base), ...outcomeSlots(base)];
}

/** The base with one record in place of the one of its kind and id. */
export function replaceRecord(base: PlainBase, record: PlainRecord): PlainBase {
  const others: readonly PlainRecord[] = base[record.kind];
  return { ...base, [record.kind]: others.map((other) => (other.id === record.id ? record : other)) };
}

function driveSlots(base: PlainBase): OpenSlot[] {
  return base.drive.flatMap((drive) => [
    ...Object.entries(driveValues).flatMap(([key, values]) => slotAt(drive, [key], values)),
    ...slotAt(drive, ['board', 'id'], idPools.board),
    ...slotAt(drive, ['board', 'rev'], revs),
    ...slotAt(drive, ['board', 'sticker'], partValues.sticker),
    ...slotAt(drive, ['board', 'controller'], ownMarkings(base, drive, 'controller')),
    ...slotAt(drive, ['board', 'motor_driver'], ownMarkings(base, drive, 'motor_driver')),
  ]);
}

/** What a drive's own marking may turn out to be: one of its revision's alternatives, or anything where it has no listed revision. */
function ownMarkings(
  base: PlainBase,
  { board }: PlainBase['drive'][number],
  key: 'controller' | 'motor_driver',
): readonly string[] {
  const { id, rev } = board ?? {};
  const revisions = base.board.find((candidate) => candidate.id === id)?.revisions ?? [];
  const revision = revisions.find((candidate) => foldText(candidate.rev ?? '') === foldText(rev ?? ''));
  if (!revision) return partValues[key];
  const inherited = revision[key];
  if (!Array.isArray(inherited)) return [];
  return new Set(inherited.map(foldText)).size > 1 ? inherited : [];
}

function revisionSlots(base: PlainBase): OpenSlot[] {
  return base.board.flatMap((board) =>
    (board.revisions ?? []).flatMap((revision, position) => {
      const at = ['revisions', position];
      const roms = revision.roms ?? [];
      const withAdaptives = roms.filter((rom) => rom.holds?.includes('adaptives'));
      const [rom, ...others] = withAdaptives.length > 0 ? withAdaptives : roms;
      return [
        ...slotAt(board, [...at, 'controller'], partValues.controller),
        ...slotAt(board, [...at, 'motor_driver'], partValues.motor_driver),
        ...slotAt(board, [...at, 'contact_pads'], partValues.contact_pads),
        ...(others.length > 0
          ? []
          : slotAt(board, [...at, 'roms', rom ? roms.indexOf(rom) : 0, 'package'], partValues.rom_package)),
      ];
    }),
  );
}

function familySlots(base: PlainBase): OpenSlot[] {
  return base.family.flatMap((family) => [
    ...Object.entries(familyValues).flatMap(([key, values]) => slotAt(family, [key], values)),
    ...slotAt(family, ['adaptives', 'stored_in'], storedIn),
  ]);
}

function outcomeSlots(base: PlainBase): OpenSlot[] {
  const roms: readonly OutcomeData['rom'][] = [...romStates, ['left', 'chip_moved'], ['chip_moved', 'image_written']];
  return base.outcome.flatMap((outcome) => {
    const rows = outcome.identity ?? [];
    const columns = (['patient_before', 'donor_before'] as const).filter((column) =>
      rows.every((row) => row[column] === undefined),
    );
    const inRow = setAt(outcome, ['identity', rows.length, 'value'], 'power_on_hours');
    return [
      ...slotAt(outcome, ['rom'], roms),
      ...columns.flatMap((column) => slotAt(inRow, ['identity', rows.length, column], hours)),
    ];
  });
}

/** The slot at a path of a record; none where a value stands there, or nothing could. */
function slotAt(record: PlainRecord, path: Path, values: readonly unknown[]): OpenSlot[] {
  const present = path.reduce<unknown>((inside, step) => (inside as Tree | undefined)?.[step], record);
  if (present !== undefined || values.length === 0) return [];
  return [
    {
      name: `${record.kind}/${record.id} ${path.join('.')}`,
      learn: (pick) => setAt(record, path, values[pick % values.length]),
    },
  ];
}

type Path = readonly (string | number)[];
type Tree = Readonly<Record<string | number, unknown>>;

/** A copy with a value at a path; maps and lists on the way are made where they are missing. */
function setAt<Whole>(whole: Whole, path: Path, value: unknown): Whole {
  const [step, ...rest] = path;
  if (step === undefined) return value as Whole;
  const inner = setAt((whole as Tree | undefined)?.[step], rest, value);
  if (typeof step === 'string') return { ...whole, [step]: inner };
  const list: readonly unknown[] = Array.isArray(whole) ? whole : [];
  return [...list.slice(0, step), inner, ...list.slice(step + 1)] as Whole;
}
