import type {
  BoardData,
  DriveData,
  FamilyData,
  MakerData,
  OutcomeData,
  RuleData,
} from '../../../../schemas/gen/records.ts';
import type { Path } from '../syntax/tape.ts';
import { type Kind, kinds } from '../terms/kinds.ts';
import { capitalise } from '../text/capitalise.ts';

/** What the data of each kind looks like once values that break the schema are left out. */
interface DataByKind {
  readonly maker: MakerData;
  readonly family: FamilyData;
  readonly board: BoardData;
  readonly drive: DriveData;
  readonly outcome: OutcomeData;
  readonly rule: RuleData;
}

/**
 * One record of a base. Records are immutable and know neither their file nor their position: the snapshot does. A record that
 * an edit leaves alone, `notes` aside, stays the same object from snapshot to snapshot, which is what lets results be reused.
 */
export interface RecordOf<K extends Kind> {
  readonly kind: K;
  readonly id: string;
  readonly data: DataByKind[K];
  /**
   * Paths of values that stand in the file and could not be used, those under a misspelt key included. Absent means not known; but where absence says something
   * definite (no host needs, no exceptions), a value that could not be used must not be taken for it.
   */
  readonly unusable: readonly Path[];
}

/** A maker. */
export type MakerRecord = RecordOf<'maker'>;

/** The record of a family. */
export type FamilyRecord = RecordOf<'family'>;
/** The record of a board. */
export type BoardRecord = RecordOf<'board'>;
/** The record of a drive. */
export type DriveRecord = RecordOf<'drive'>;
/** The record of an outcome. */
export type OutcomeRecord = RecordOf<'outcome'>;
/** The record of a rule. */
export type RuleRecord = RecordOf<'rule'>;

/** A record of any kind. */
export type AnyRecord = { readonly [K in Kind]: RecordOf<K> }[Kind];

/** How a record is named in output: `kind/id`. */
export function nameOf(record: { readonly kind: Kind; readonly id: string }): string {
  return `${record.kind}/${record.id}`;
}

/** Kind and id of a record named so; undefined for any other text. */
export function readName(name: string): { readonly kind: Kind; readonly id: string } | undefined {
  const kind = kinds.find((one) => name.startsWith(`${one}/`));
  return kind && { kind, id: name.slice(kind.length + 1) };
}

/** How a record is named at the beginning of a sentence: "Outcome `2026-03-14-tern-117-118`". */
export function labelOf({ kind, id }: { readonly kind: Kind; readonly id: string }): string {
  return `${capitalise(kind)} \`${id}\``;
}

/** Whether a value at or below this path stands in the file but could not be used. */
export function hasUnusable(record: AnyRecord, ...path: Path): boolean {
  // Asked for every record many times over, and hardly any has something unusable.
  if (record.unusable.length === 0) return false;
  return record.unusable.some((unusable) => path.every((step, depth) => unusable[depth] === step));
}

/** Whether the record is kept for the record only. A `retracted` that could not be read still says that somebody withdrew it. */
export function isRetracted(record: AnyRecord): boolean {
  return record.data.retracted !== undefined || hasUnusable(record, 'retracted');
}
