/**
 * What the examinations of a drive come to, key by key: the latest day on which a key was recorded counts. Of several values of that
 * day the gravest does, since nobody can tell which came last; so does a graver one of a row whose day cannot be read.
 * Laws (test/property/examination.property.test.ts):
 * - the order of the rows changes nothing
 * - a later row has the last word on every key it records, and on no other
 * - of several values of one day the gravest counts
 * - what was measured before something burnt or was shorted clears nothing
 */
import type { DriveData } from '../../../../schemas/gen/records.ts';
import { type DriveRecord, hasUnusable } from '../model/record.ts';
import { byCodeUnits } from '../text/by-code-units.ts';

type Row = NonNullable<DriveData['examined']>[number];

/** The keys of an examination that say how something is. */
export const readingKeys = [
  'supply_5v',
  'supply_12v',
  'motor_windings',
  'head_lines',
  'contacts',
  'parts_burnt',
] as const satisfies readonly (keyof Row)[];

/** A key of an examination that says how something is. */
export type ReadingKey = (typeof readingKeys)[number];

/** What counts of one key. `on` is the day; undefined where that cannot be read. */
interface Reading {
  readonly value: NonNullable<Row[ReadingKey]>;
  readonly on: string | undefined;
  /** The first day from which every row that records the key says the same; undefined where a day cannot be read. */
  readonly since: string | undefined;
}

/** All examinations of a drive together. A key that none records is left out. */
export interface Examination {
  readonly readings: { readonly [Key in ReadingKey]?: Reading };
  /** Whether something stands there that cannot be read, and may be anything. */
  readonly isUnreadable: boolean;
}

/** What the examinations of a drive come to. */
export function examinationOf(drive: DriveRecord): Examination {
  const { examined = [] } = drive.data;
  const readings = readingKeys.flatMap((key) => {
    const reading = readingOf(key, examined);
    return reading ? [[key, reading] as const] : [];
  });
  return { readings: Object.fromEntries(readings), isUnreadable: hasUnusable(drive, 'examined') };
}

/**
 * Whether a board is burnt or a line is shorted while windings or head lines are not known to be good since then: whatever did it may
 * do it to the next board as well. Source: common practice, no source.
 */
export function mayTakeNextBoard({ readings, isUnreadable }: Examination): boolean {
  const causes = readingKeys.flatMap((key) => {
    const reading = readings[key];
    return reading && gravityOf(reading) === gravest ? reading : [];
  });
  const isSound = [readings.motor_windings, readings.head_lines].every(
    (reading) => reading?.value === 'ok' && causes.every((cause) => isSinceThen(reading, cause)),
  );
  return causes.length > 0 && (!isSound || isUnreadable);
}

function isSinceThen({ on }: Reading, { since }: Reading): boolean {
  return on !== undefined && since !== undefined && since <= on;
}

/** Whether a supply line is shorted. */
export function isSupplyShorted({ readings }: Pick<Examination, 'readings'>): boolean {
  return readings.supply_5v?.value === 'shorted' || readings.supply_12v?.value === 'shorted';
}

/** Whether parts or pads of the board are burnt. */
export function isBurnt({ readings }: Pick<Examination, 'readings'>): boolean {
  return readings.parts_burnt?.value === true || readings.contacts?.value === 'burnt';
}

function readingOf(key: ReadingKey, rows: readonly Row[]): Reading | undefined {
  const all = rows.flatMap((row): Noted[] => {
    const value = row[key];
    return value === undefined ? [] : [{ value, on: row.on }];
  });
  const days = [...new Set(all.flatMap(({ on }) => on ?? []))].sort(byCodeUnits);
  const byDay = days.flatMap((day) => gravestOf(all.filter(({ on }) => on === day)) ?? []);
  const latest = byDay.at(-1);
  // Of equal ones the dated comes first, so that its day is named.
  const counting = gravestOf([...(latest ? [latest] : []), ...all.filter(({ on }) => on === undefined)]);
  if (!counting || counting !== latest) return counting && { ...counting, since: undefined };
  const lastOther = byDay.findLastIndex(({ value }) => value !== latest.value);
  return { ...latest, since: days[lastOther + 1] };
}

type Noted = Pick<Reading, 'value' | 'on'>;

/** The first of those against which most speaks. */
function gravestOf(list: readonly Noted[]): Noted | undefined {
  const highest = Math.max(...list.map(gravityOf));
  return list.find((one) => gravityOf(one) === highest);
}

/** The gravity of what burns the next board, or shows that something burnt this one. */
const gravest = 2;

/** How much speaks against going on, by value. */
const gravities: Readonly<Record<Exclude<Reading['value'], boolean>, number>> = {
  ...{ ok: 0, open: 1, shorted: gravest },
  ...{ clean: 0, oxidised: 1, burnt: gravest },
};

function gravityOf({ value }: Noted): number {
  if (typeof value === 'boolean') return value ? gravest : 0;
  return gravities[value];
}
