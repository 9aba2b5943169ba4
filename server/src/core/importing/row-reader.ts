import { type SerialCover, serialCover } from '../captures/mask-serials.ts';
import { describeProblem } from '../checks/schema.ts';
import type { ValueMap } from '../edits/intent.ts';
import type { Snapshot } from '../index/snapshot.ts';
import type { Fault } from '../model/fault.ts';
import { type AnyRecord, labelOf } from '../model/record.ts';
import { type Answer, type Answers, pathOf, valueOfAnswers } from '../recording/answers.ts';
import { draftFile } from '../recording/draft-file.ts';
import { findKeyRow } from '../schema/key-rows.ts';
import type { Path } from '../syntax/tape.ts';
import type { Kind } from '../terms/kinds.ts';
import { isMaskedSerial } from '../terms/masked-serial.ts';
import type { FieldPlan, ImportMap, RecordPlan } from './import-map.ts';
import { CellReader } from './read-cell.ts';
import type { Unreadable } from './reading.ts';
import type { Refusal } from './refusal.ts';
import { RowAttempt } from './row-attempt.ts';
import { slugOf } from './slug.ts';
import type { Table, TableRow } from './table.ts';

/** A record as one row tells of it. */
export interface RowRecord {
  readonly kind: Kind;
  readonly id: string;
  readonly plan: RecordPlan;
  /** What the row says of it, without kind and id. */
  readonly value: ValueMap;
}

/** A record of one row as it would be read once it is written. */
interface Drafted {
  readonly record: AnyRecord | undefined;
  readonly faults: readonly Fault[];
}

/** What a row makes: records, or nothing, for these reasons. */
export interface RowReading {
  readonly row: TableRow;
  readonly records: readonly RowRecord[];
  readonly refusals: readonly Refusal[];
  /** A text of the row as it may be shown: without its serial numbers, where the base keeps them masked. */
  readonly shown: (text: string) => string;
}

/** Reads rows one by one. What one row comes to depends on no other. */
export class RowReader {
  private readonly cells: CellReader;
  /** By what they were made of: tables tell of the same drives over and over. */
  private readonly drafts = new Map<string, Drafted>();

  constructor(
    private readonly map: ImportMap,
    private readonly table: Table,
    private readonly snapshot: Snapshot,
  ) {
    this.cells = new CellReader(map.table, snapshot);
  }

  /** Whether nothing stands in any cell. */
  isEmpty({ cells }: TableRow): boolean {
    return cells.every((cell) => cell.trim() === '');
  }

  /** What a row makes. */
  read(row: TableRow): RowReading {
    const ragged = this.raggedness(row);
    if (ragged) return { row, records: [], refusals: [ragged], shown: (text) => text };
    const attempt = new RowAttempt(this.map, this.table, this.cells, row);
    attempt.run();
    const serials = this.hiddenIn(attempt.answered);
    const cover = serialCover(serials, 'masked');
    const refusals = [...attempt.refusals];
    const records = refusals.length > 0 ? [] : attempt.begun.map((begun) => this.finish(begun, cover));
    for (const record of records) {
      if (serials.some((serial) => doesShow(record.id, serial))) {
        refusals.push(attempt.refusal({ reason: `The id of the ${record.kind} would show a serial number.` }));
      } else refusals.push(...this.faultsOf(record, attempt));
    }
    const shown = (text: string): string => cover?.clean(text) ?? text;
    const isOut = refusals.length > 0;
    return { row, records: isOut ? [] : records, refusals: refusals.map((one) => withShown(one, shown)), shown };
  }

  private raggedness({ row, line, cells }: TableRow): Refusal | undefined {
    const wanted = this.table.headings.length;
    const isLong = cells.slice(wanted).some((cell) => cell.trim() !== '');
    if (cells.length >= wanted && !isLong) return undefined;
    const help = 'A delimiter or line break inside a cell needs quotes around the cell.';
    return { row, line, reason: `The row has ${cells.length} cells, the headings have ${wanted}.`, help };
  }

  /** The serial numbers of a row that may not be shown. */
  private hiddenIn(answered: readonly ReadonlyMap<string, Answer>[]): readonly string[] {
    if (this.snapshot.config.serials === 'full') return [];
    return answered.flatMap((answers) =>
      [...answers].flatMap(([name, answer]) =>
        isSerial(name, answers) && typeof answer === 'string' && !isMaskedSerial(answer) ? answer : [],
      ),
    );
  }

  private finish({ plan, answers, id }: RowAttempt['begun'][number], cover: SerialCover | undefined): RowRecord {
    const covered = [...answers].map(([name, answer]): [string, Answer] => {
      if (!cover || typeof answer !== 'string') return [name, answer];
      if (isSerial(name, answers)) return [name, cover.instead(answer) ?? null];
      return [name, isFreeText(plan.kind, name) ? cover.clean(answer) : answer];
    });
    return { kind: plan.kind, id, plan, value: valueOfAnswers(plan.kind, Object.fromEntries(covered)) };
  }

  /** A record as it would be if no other row told of it; undefined where it cannot be read. */
  recordOf({ kind, id, value }: RowRecord): AnyRecord | undefined {
    return this.draft(kind, id, value).record;
  }

  private faultsOf(record: RowRecord, attempt: RowAttempt): readonly Refusal[] {
    const { kind, id, value, plan } = record;
    const { faults, record: read } = this.draft(kind, id, value);
    const shown = `${kind}/${id}`;
    if (!read) return [attempt.refusal({ reason: 'No file can hold these values as they are.' }, undefined, shown)];
    return faults.map((fault) => {
      const path = 'path' in fault ? fault.path : [];
      return attempt.refusal(describe(fault, record), fieldFor(plan, path), shown);
    });
  }

  private draft(kind: Kind, id: string, value: ValueMap): Drafted {
    const name = JSON.stringify([kind, id, value]);
    const known = this.drafts.get(name);
    if (known) return known;
    const { file, record } = draftFile(kind, { id, ...answersIn(value) });
    const drafted = { record, faults: file.facts.faults };
    this.drafts.set(name, drafted);
    return drafted;
  }
}

/** The values of a record by dotted names, as recording takes them. */
export function answersIn(value: ValueMap): Answers {
  return Object.fromEntries(Object.entries(value).flatMap(([key, inner]) => leavesOf(key, inner)));
}

function leavesOf(name: string, value: ValueMap[string]): readonly (readonly [string, Answer])[] {
  if (Array.isArray(value)) {
    const items: readonly ValueMap[string][] = value;
    if (items.every((item) => typeof item === 'string')) return [[name, items]];
    return items.flatMap((item, position) => leavesOf(`${name}.${position}`, item));
  }
  if (typeof value !== 'object') return [[name, value]];
  return Object.entries(value).flatMap(([key, inner]) => leavesOf(`${name}.${key}`, inner));
}

function describe(fault: Fault, { kind, id }: RowRecord): Unreadable {
  const label = labelOf({ kind, id });
  // A map names keys that there are, each once.
  if (fault.kind !== 'schema') return { reason: `${label} cannot be written as it is.` };
  const key = String(fault.path.findLast((step) => typeof step === 'string') ?? kind);
  const { message } = describeProblem(key, fault.problem, label);
  if (fault.problem.what !== 'refused') return { reason: message };
  return { reason: message, help: 'Mend the cell, or say under `values` of its field what it stands for.' };
}

/** The field that fills the key at a path, or the first one below it. */
export function fieldFor(plan: RecordPlan, path: Path): FieldPlan | undefined {
  const isWithin = (inner: Path, outer: Path): boolean =>
    inner.length >= outer.length && outer.every((step, depth) => step === inner[depth]);
  const fields = plan.fields.filter(({ source }) => source.from !== 'constant');
  return (
    fields.find(({ name }) => isWithin(path, pathOf(name))) ??
    (path.length === 0 ? undefined : fields.find(({ name }) => isWithin(pathOf(name), path)))
  );
}

/** Whether a key holds a serial number: a drive's own, or what an identity row of serial numbers reports. */
function isSerial(name: string, answers: ReadonlyMap<string, Answer>): boolean {
  if (name === 'serial') return true;
  const [, row, key] = /^identity\.(\d+)\.(\w+)$/.exec(name) ?? [];
  return row !== undefined && key !== 'value' && answers.get(`identity.${row}.value`) === 'serial';
}

/** Characters from which on a serial number in an id is no coincidence. */
const shortestShown = 6;

/** Whether an id, which keeps letters and digits alone, gives a serial number away. */
function doesShow(id: string, serial: string): boolean {
  const bare = slugOf(serial).replaceAll('-', '');
  return bare.length >= shortestShown && id.replaceAll('-', '').includes(bare);
}

/** Whether people write about things under a key. Anywhere else a part of a value may be like a short serial number by chance. */
function isFreeText(kind: Kind, name: string): boolean {
  const row = findKeyRow(kind, pathOf(name));
  if (!row) return true;
  const isOther = [row.format, row.values, row.refersTo, row.comparableAs, row.expected].some(
    (part) => part !== undefined,
  );
  return row.type === 'text' && !isOther;
}

function withShown(refusal: Refusal, shown: (text: string) => string): Refusal {
  const { value, reason } = refusal;
  return { ...refusal, reason: shown(reason), ...(value === undefined ? {} : { value: shown(value) }) };
}
