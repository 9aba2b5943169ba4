/**
 * What importing a table comes to. A row goes in whole or not at all; what is refused leads to no record, and records that are there stay.
 * Laws (test/property/importing.property.test.ts):
 * - rows in any order come to the same records
 * - a second run writes nothing and refuses the same rows
 * - without the rows that were refused the same records come out
 * - what is written brings no error into the base
 */
import { danglingReference } from '../checks/dangling-reference.ts';
import type { Finding } from '../checks/finding.ts';
import { type CheckedBase, findingsOf, runChecks } from '../checks/run-checks.ts';
import { unknownRevision } from '../checks/unknown-revision.ts';
import { ownFileFor } from '../features/home-for.ts';
import type { BaseFile, Snapshot } from '../index/snapshot.ts';
import { BasePaths } from '../model/base-path.ts';
import { nameOf } from '../model/record.ts';
import { draftFile } from '../recording/draft-file.ts';
import type { NewRecord } from '../recording/new-record.ts';
import type { Day } from '../terms/calendar.ts';
import type { Kind } from '../terms/kinds.ts';
import { blamedRows } from './blamed-rows.ts';
import type { ImportMap } from './import-map.ts';
import { missingIn } from './merge-values.ts';
import type { Refusal } from './refusal.ts';
import { answersIn, fieldFor, RowReader, type RowReading } from './row-reader.ts';
import type { Table } from './table.ts';
import { conflictRefusals, refusalOf, shownValue, type ToldRecord, toldRecords } from './told-records.ts';

/** What is imported, and into what. Every id of the base has to be known. */
export interface ImportRequest {
  readonly map: ImportMap;
  readonly table: Table;
  readonly snapshot: Snapshot;
  readonly today: Day;
  /** Why no file can be made at a path of the base, such as `is there already`; undefined where one can. */
  readonly obstacleAt: (path: string) => string | undefined;
  /** The snapshot where somebody has looked at the other files that its records name. */
  readonly withSeen: (snapshot: Snapshot) => Snapshot;
}

/** A record that is to be written into a file of its own. */
export interface ImportedRecord extends NewRecord {
  readonly kind: Kind;
  /** The rows that tell of it, in order. */
  readonly rows: readonly number[];
}

/** A value that a row gives and the record that is here does not have. */
export interface Difference {
  readonly row: number;
  readonly line: number;
  readonly column: string | undefined;
  /** `kind/id`. */
  readonly record: string;
  readonly path: string;
  /** With dots between the steps of its path. */
  readonly key: string;
  /** In backticks; `here` is undefined where the record does not have the key. */
  readonly said: string;
  readonly here: string | undefined;
}

/** What an import comes to. */
export interface ImportPlan {
  /** In the order they are to be written: what is named stands before what names it. */
  readonly records: readonly ImportedRecord[];
  /** Records that rows tell of and that were here before. */
  readonly here: number;
  readonly differences: readonly Difference[];
  /** By row. */
  readonly refusals: readonly Refusal[];
  /** Rows by what became of them. */
  readonly rows: { readonly in: number; readonly refused: number; readonly empty: number };
}

/** What looks up the records and revisions that a record names. */
const referenceChecks = [danglingReference, unknownRevision];

/** Rows between two yields. */
const rowsPerSlice = 50;

/** Plans an import. Yields now and then (invariant 10). */
export function* planImport(request: ImportRequest): Generator<undefined, ImportPlan> {
  const { map, table, snapshot } = request;
  const reader = new RowReader(map, table, snapshot);
  const filled = table.rows.filter((row) => !reader.isEmpty(row));
  const readings: RowReading[] = [];
  for (const row of filled) {
    readings.push(reader.read(row));
    if (readings.length % rowsPerSlice === 0) yield;
  }
  const refusals = readings.flatMap((reading) => reading.refusals);
  const importer = new Importer(request, reader);
  let active = readings.filter((reading) => reading.refusals.length === 0);
  for (;;) {
    const told = toldRecords(active, map.records);
    const refused = yield* importer.refuse(told);
    if (refused.length === 0) {
      const rows = {
        in: active.length,
        refused: readings.length - active.length,
        empty: table.rows.length - filled.length,
      };
      return { ...importer.outcome(told), refusals: inOrder(refusals), rows };
    }
    refusals.push(...refused);
    const rows = new Set(refused.map(({ row }) => row));
    active = active.filter((reading) => !rows.has(reading.row.row));
  }
}

/** By row, each thing that is said of it once. */
function inOrder(refusals: readonly Refusal[]): readonly Refusal[] {
  const unique = new Map(
    refusals.map((refusal) => [JSON.stringify([refusal.row, refusal.column, refusal.reason]), refusal]),
  );
  return [...unique.values()].sort((a, b) => a.row - b.row);
}

/** A record that is not here yet, drafted. */
interface Drafted {
  readonly told: ToldRecord;
  readonly path: string;
  readonly text: string;
  readonly file: BaseFile;
}

class Importer {
  private readonly paths = new Map<string, string>();
  private readonly drafts = new Map<string, Drafted>();
  private readonly belonging: BasePaths;
  private before: CheckedBase | undefined;

  constructor(
    private readonly request: ImportRequest,
    private readonly reader: RowReader,
  ) {
    this.belonging = new BasePaths(request.snapshot.config.ignore);
  }

  /** Why some of these rows do not go in; whatever is said first keeps the rest from being asked. */
  *refuse(told: readonly ToldRecord[]): Generator<undefined, readonly Refusal[]> {
    // First, so that a row that is wrong by itself contradicts no other.
    const astray = this.refuseAstray(told);
    if (astray.length > 0) return astray;
    const conflicts = conflictRefusals(told, this.request.table);
    if (conflicts.length > 0) return conflicts;
    const unplaced = this.refuseUnplaced(told);
    return unplaced.length > 0 ? unplaced : yield* this.refuseByFindings(told);
  }

  /** What remains to be written of the rows that go in, and what is here. */
  outcome(told: readonly ToldRecord[]): Pick<ImportPlan, 'records' | 'here' | 'differences'> {
    const fresh = told.filter((one) => !this.isHere(one));
    const records = fresh.map((one) => {
      const { path, text } = this.draft(one);
      const rows = one.tellers.map(({ reading }) => reading.row.row).sort((a, b) => a - b);
      return { kind: one.kind, id: one.id, path, text, rows };
    });
    const differences = told.filter((one) => this.isHere(one)).flatMap((one) => this.differencesOf(one));
    return { records, here: told.length - fresh.length, differences: differences.sort((a, b) => a.row - b.row) };
  }

  private isHere({ kind, id }: ToldRecord): boolean {
    return this.request.snapshot.findAny(kind, id) !== undefined;
  }

  /** Rows that name what is recorded neither here nor by any row. */
  private refuseAstray(told: readonly ToldRecord[]): readonly Refusal[] {
    const { snapshot, table, today } = this.request;
    const fresh = told.filter((one) => !this.isHere(one)).map((one) => this.draft(one));
    const after = snapshot.with(fresh.map(({ path, file }) => ({ path, file })));
    const { severity } = snapshot.config;
    const checks = referenceChecks.filter(({ check }) => (severity[check] ?? 'error') === 'error');
    return told.flatMap(({ tellers }) =>
      tellers.flatMap((teller) => {
        const record = this.reader.recordOf(teller.record);
        const drafts = record
          ? checks.flatMap((check) => (check.scope === 'record' ? [...check.run(record, after, today)] : []))
          : [];
        return drafts.map(({ at, message, help }) =>
          refusalOf(teller, table, { path: 'path' in at ? at.path : [], reason: message, help }),
        );
      }),
    );
  }

  private refuseUnplaced(told: readonly ToldRecord[]): readonly Refusal[] {
    const { snapshot, table } = this.request;
    const refuse = ({ tellers }: ToldRecord, reason: string): readonly Refusal[] =>
      tellers.map((teller) => refusalOf(teller, table, { path: [], reason }));
    const byPath = new Map<string, ToldRecord>();
    return told.flatMap((one) => {
      if (this.isHere(one)) return [];
      const { kind, id } = one;
      if (snapshot.hasBareId(kind, id)) return refuse(one, `${nameOf(one)} stands in a file that cannot be read.`);
      const { path, text, file } = this.draft(one);
      const other = byPath.get(path);
      byPath.set(path, one);
      if (other) {
        const shared = `${nameOf(one)} and ${nameOf(other)} would go into the same file, ${path}.`;
        return [...refuse(one, shared), ...refuse(other, shared)];
      }
      if (!this.belonging.belongs(path)) return refuse(one, `${path} would be no file of the base.`);
      const obstacle = snapshot.files.get(path)
        ? 'is there already, with other records'
        : this.request.obstacleAt(path);
      if (obstacle !== undefined) return refuse(one, `${path} ${obstacle}.`);
      const isFaulty = text === '' || file.facts.faults.length > 0;
      return isFaulty ? refuse(one, `What the rows say of ${nameOf(one)} makes no record together.`) : [];
    });
  }

  private *refuseByFindings(told: readonly ToldRecord[]): Generator<undefined, readonly Refusal[]> {
    const { snapshot, today, table, withSeen } = this.request;
    const fresh = told.filter((one) => !this.isHere(one)).map((one) => this.draft(one));
    if (fresh.length === 0) return [];
    this.before ??= yield* runChecks(snapshot, { today });
    const known = new Set(findingsOf(this.before).filter(isError).map(nameOfFinding));
    const after = withSeen(snapshot.with(fresh.map(({ path, file }) => ({ path, file }))));
    const checked = yield* runChecks(after, { today, before: this.before });
    const byPath = new Map(fresh.map((draft) => [draft.path, draft.told]));
    return findingsOf(checked)
      .filter((finding) => isError(finding) && !known.has(nameOfFinding(finding)))
      .flatMap((finding) =>
        blamedRows(finding, after, byPath).map(({ teller, path }) =>
          refusalOf(teller, table, { path, reason: finding.message, help: finding.help }),
        ),
      );
  }

  private draft(told: ToldRecord): Drafted {
    const { kind, id, value } = told;
    const path = this.pathOf(told);
    const name = JSON.stringify([kind, id, path, value]);
    const known = this.drafts.get(name);
    // Rows may have gone since, but not what is written.
    if (known) return { ...known, told };
    const { text, file } = draftFile(kind, { id, ...answersIn(value) });
    const drafted = { told, path, text, file: { ...file, path } };
    this.drafts.set(name, drafted);
    return drafted;
  }

  private pathOf({ kind, id, plan }: ToldRecord): string {
    const name = `${plan.folder ?? ''}\n${kind}/${id}`;
    const known = this.paths.get(name);
    const path =
      known ?? (plan.folder === undefined ? ownFileFor(this.request.snapshot, kind, id) : `${plan.folder}/${id}.yaml`);
    this.paths.set(name, path);
    return path;
  }

  private differencesOf({ kind, id, tellers }: ToldRecord): readonly Difference[] {
    const { snapshot, table } = this.request;
    const [standing] = snapshot.standings(kind, id);
    if (!standing) return [];
    const { record, file } = standing;
    const notes = file.facts.records.find((placed) => placed.record === record)?.notes;
    const here = { ...record.data, ...(notes === undefined ? {} : { notes }) };
    return tellers.flatMap(({ reading, record: said }) =>
      missingIn(said.value, here).map((missing) => {
        const source = fieldFor(said.plan, missing.path)?.source;
        return {
          ...{ row: reading.row.row, line: reading.row.line },
          column: source?.from === 'column' ? table.headings[source.column] : undefined,
          ...{ record: nameOf(record), path: file.path, key: missing.path.join('.') },
          said: shownValue(missing.said),
          here: missing.here === undefined ? undefined : shownValue(missing.here),
        };
      }),
    );
  }
}

function isError({ severity }: Finding): boolean {
  return severity === 'error';
}

function nameOfFinding({ check, place, message }: Finding): string {
  return JSON.stringify([check, place.file, place.target, message]);
}
