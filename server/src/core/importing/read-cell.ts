import type { MappingTableData } from '../../../../schemas/gen/records.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { AnyRecord } from '../model/record.ts';
import type { Answer } from '../recording/answers.ts';
import type { KeyRow } from '../schema/key-rows.ts';
import type { Kind } from '../terms/kinds.ts';
import { foldText } from '../text/fold.ts';
import { singleSpaced } from '../text/single-spaced.ts';
import type { FieldPlan } from './import-map.ts';
import { readDate } from './read-date.ts';
import { readNumber } from './read-number.ts';
import type { Reading } from './reading.ts';
import { slugOf } from './slug.ts';

/** Reads cells as one map says, for one base. */
export class CellReader {
  private readonly blank: ReadonlySet<string>;
  private readonly ids = new Map<string, string | undefined>();

  constructor(
    private readonly table: MappingTableData,
    private readonly snapshot: Snapshot,
  ) {
    this.blank = new Set(['', ...(table.blank ?? []).map(foldText)]);
  }

  /** Whether nothing is known by this cell. */
  isBlank(cell: string): boolean {
    return this.blank.has(foldText(cell));
  }

  /** What a cell comes to under a key; null where nothing is known. */
  read(field: FieldPlan, cell: string): Reading {
    if (this.isBlank(cell)) return { value: field.fallback ?? null };
    const whole = field.values.get(foldText(cell));
    if (whole !== undefined) return { value: whole };
    if (field.split === undefined) return this.readOne(field, cell);
    const answers: string[] = [];
    for (const part of cell.split(field.split)) {
      if (this.isBlank(part)) continue;
      const reading = this.readOne(field, part);
      if ('reason' in reading) return reading;
      if (typeof reading.value === 'object') answers.push(...(reading.value ?? []));
      else answers.push(String(reading.value));
    }
    return { value: [...new Set(answers)] };
  }

  private readOne(field: FieldPlan, text: string): Reading {
    const folded = foldText(text);
    const translated = field.values.get(folded);
    if (translated !== undefined) return { value: translated };
    const { row } = field;
    if (row?.values) return { value: choiceOf(row, folded) ?? text.trim() };
    if (row?.format !== undefined) return readDate(text.trim(), field.dates ?? this.table.dates);
    if (row?.type === 'boolean') return { value: truthOf(folded) ?? text.trim() };
    if (row?.type === 'integer' || row?.type === 'number') {
      const decimal = field.decimal ?? this.table.decimal;
      return readNumber(text.trim(), { decimal, unit: field.unit, keyUnit: row.unit });
    }
    if (row?.refersTo !== undefined) return { value: this.idOf(row.refersTo, text) };
    return { value: row?.name === 'notes' ? linesOf(text) : singleSpaced(text) };
  }

  /** The id that a cell means: one it spells, else that of the only record of that name; a new record may have the one it spells. */
  private idOf(kind: Kind, text: string): string {
    const spelt = slugOf(text);
    if (this.snapshot.findAny(kind, spelt)) return spelt;
    const name = `${kind} ${foldText(text)}`;
    if (!this.ids.has(name)) this.ids.set(name, this.findNamed(kind, foldText(text)));
    return this.ids.get(name) ?? spelt;
  }

  private findNamed(kind: Kind, folded: string): string | undefined {
    const records = this.snapshot.records(kind) as readonly AnyRecord[];
    const [only, another] = records.filter((record) => foldText(nameIn(record) ?? '') === folded);
    return another ? undefined : only?.id;
  }
}

/** What people call a maker, family or board; other records go by their ids. */
function nameIn(record: AnyRecord): string | undefined {
  if (record.kind === 'maker' || record.kind === 'family') return record.data.name;
  return record.kind === 'board' ? record.data.part_number : undefined;
}

/** The value of a fixed choice that a text spells. */
function choiceOf({ values, type }: KeyRow, folded: string): Answer | undefined {
  const found = values?.find(({ value }) => foldText(value) === folded)?.value;
  if (found === undefined || type === 'text') return found;
  return truthOf(found) ?? (Number.isNaN(Number(found)) ? found : Number(found));
}

function truthOf(text: string): boolean | undefined {
  return text === 'true' ? true : text === 'false' ? false : undefined;
}

/** A text of several lines, without what an export puts around them. */
function linesOf(text: string): string {
  return text
    .trim()
    .split(/\r\n|[\r\n]/)
    .map((line) => line.trimEnd())
    .join('\n');
}
