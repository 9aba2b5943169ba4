import { type ComparableKey, keyNodes } from '../../../../schemas/gen/key-table.ts';
import type { FamilyKey, SideKey } from '../conditions/formula.ts';
import { parseDate } from '../terms/calendar.ts';
import { foldText } from '../text/fold.ts';
import type { Sort, Value } from './terms.ts';

/** A value as a sort holds it: texts folded, since case and repeated spaces do not count. */
export function toValue(value: string | number | boolean): Value {
  return typeof value === 'string' ? foldText(value) : value;
}

/** The sort of a key of one side of a swap. `rev` is the revision's name alone; the board is asked for beside it. */
export function sortOfSide(key: SideKey): Sort {
  return sideSorts[key];
}

/** The sort of a fact about a family. */
export function sortOfFamily(key: FamilyKey): Sort {
  return familySorts[key];
}

function texts(name: ComparableKey): Sort {
  return { name, holds: 'texts' };
}

/** What the schemas allow a value to be. `other` is no package: it says nothing that two boards could share. */
const sideSorts: Readonly<Record<SideKey, Sort>> = {
  family: texts('family'),
  model: texts('model'),
  part_number: texts('part_number'),
  firmware: texts('firmware'),
  rom_version: texts('rom_version'),
  site: texts('site'),
  country: texts('country'),
  capacity_gb: { name: 'capacity_gb', holds: 'numbers', from: 0, isFromOpen: true },
  heads: { name: 'heads', holds: 'integers', from: 1 },
  head_map: texts('head_map'),
  head_stack_code: texts('head_stack_code'),
  preamp: texts('preamp'),
  board: texts('board'),
  rev: texts('rev'),
  sticker: texts('sticker'),
  controller: texts('controller'),
  motor_driver: texts('motor_driver'),
  contact_pads: { name: 'contact_pads', holds: 'integers', from: 0 },
  rom_package: {
    name: 'rom_package',
    holds: choicesOf('board.revisions.roms', 'package').filter((value) => value !== 'other'),
  },
  made: daySort(),
  power_on_hours: { name: 'power_on_hours', holds: 'numbers', from: 0 },
};

const familySorts: Readonly<Record<FamilyKey, Sort>> = {
  interface: choice('interface'),
  form_factor: choice('form_factor'),
  height_mm: { name: 'height_mm', holds: 'numbers', from: 0, isFromOpen: true },
  recording: choice('recording'),
  encryption: choice('encryption'),
  rpm: { name: 'rpm', holds: 'integers', from: 1 },
  gas: choice('gas'),
  adaptives: { name: 'adaptives', holds: choicesOf('family.adaptives', 'stored_in') },
};

function choice(key: FamilyKey): Sort {
  return { name: key, holds: choicesOf('family', key) };
}

/** The values of a fixed choice, in the schema's order. */
function choicesOf(node: string, key: string): string[] {
  const row = (keyNodes[node] ?? []).find(({ name }) => name === key);
  return (row?.values ?? []).map(({ value }) => value);
}

/** Days that a date of four-digit year can name; where any would do, one that could stand on a drive. */
function daySort(): Sort {
  return { name: 'made', holds: 'days', from: day('0001-01-01'), to: day('9999-12-31'), usualFrom: day('2010-01-01') };
}

function day(date: string): number {
  return parseDate(date) ?? 0;
}
